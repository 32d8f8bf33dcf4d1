"""What setting a stone costs."""

import sqlalchemy as sa
from alembic import op

revision = "0023"
down_revision = "0022"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; nothing was charged so far."""
    with op.batch_alter_table("rates") as rates:
        rates.add_column(sa.Column("setting_minor", sa.BigInteger, nullable=False, server_default="0"))
