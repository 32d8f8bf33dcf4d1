"""Metals to avoid, on every order."""

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Give orders the column; those so far avoid nothing."""
    op.add_column("orders", sa.Column("avoid", sa.Text))
