"""Forms of the counter that nobody has finished yet."""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the table of unfinished forms."""
    op.create_table(
        "counter_drafts",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("key", sa.Text, nullable=False),
        sa.Column("person", sa.Text, nullable=False),
        sa.Column("typed", sa.Text, nullable=False),
        sa.Column("order_id", sa.Integer),
        sa.Column("ring", sa.Integer),
        sa.Column("saved_at", MOMENT, nullable=False),
        sa.Column("done_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_counter_drafts"),
        sa.UniqueConstraint("key", name="uq_counter_drafts_key"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_counter_drafts_order_id_orders"),
    )
    op.create_index("ix_counter_drafts_saved_at", "counter_drafts", ["saved_at"])
    op.create_index("ix_counter_drafts_order_id", "counter_drafts", ["order_id"])
