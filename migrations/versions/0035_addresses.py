"""The postal address of a customer, for invoices."""

import sqlalchemy as sa
from alembic import op

revision = "0035"
down_revision = "0034"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; nobody's address is known yet."""
    with op.batch_alter_table("customers") as customers:
        customers.add_column(sa.Column("address", sa.Text, nullable=False, server_default=sa.text("''")))
