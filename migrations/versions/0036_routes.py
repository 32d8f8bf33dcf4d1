"""What the studio changed in the route of a ring."""

import sqlalchemy as sa
from alembic import op

revision = "0036"
down_revision = "0035"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table; every ring so far goes the way the rules lay down."""
    op.create_table(
        "routes",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("changes", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_routes"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_routes_order_id_orders"),
        sa.UniqueConstraint("order_id", "position", name="uq_routes_order_id_position"),
        sa.CheckConstraint("position > 0", name="ck_routes_position"),
    )
