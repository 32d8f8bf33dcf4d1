"""Who may collect an order."""

import sqlalchemy as sa
from alembic import op

revision = "0022"
down_revision = "0021"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; of the orders so far nobody said."""
    op.add_column("orders", sa.Column("collects", sa.Text, nullable=False, server_default=""))
