"""Whether a finger was measured on two days, which halves what a day leaves open on its size."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; of fingers measured so far nobody said."""
    op.add_column("fingers", sa.Column("is_on_two_days", sa.Boolean))
