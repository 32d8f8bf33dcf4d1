"""Who said yes lately is found without reading every order."""

from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Index the orders by the moment they were agreed."""
    op.create_index("ix_orders_agreed_at", "orders", ["agreed_at"])
