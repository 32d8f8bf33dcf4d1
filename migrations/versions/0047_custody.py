"""The custody of customers' goods, chained by hashes, and for how much they are insured."""

import sqlalchemy as sa
from alembic import op

revision = "0047"
down_revision = "0046"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table; it begins with what is held when goods come or go next. No limit is set yet."""
    op.create_table(
        "custody",
        sa.Column("id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("on_day", sa.Date, nullable=False),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("document", sa.Text, nullable=False),
        sa.Column("good", sa.Text, nullable=False),
        sa.Column("line", sa.Text, nullable=False),
        sa.Column("weight_mg", sa.Integer),
        sa.Column("value_minor", sa.Integer),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("condition", sa.Text, nullable=False),
        sa.Column("bag", sa.Text, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("hash", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_custody"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_custody_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_custody_user_id_users"),
        sa.CheckConstraint("id > 0", name="ck_custody_numbers"),
        sa.CheckConstraint(
            "(weight_mg IS NULL OR weight_mg >= 0) AND (value_minor IS NULL OR value_minor >= 0)",
            name="ck_custody_figures",
        ),
        sa.CheckConstraint(
            "what IN ('carried in', 'taken in', 'given back', 'used in the ring')", name="ck_custody_what"
        ),
    )
    op.create_index("ix_custody_order_id", "custody", ["order_id"])
    op.create_index("ix_custody_user_id", "custody", ["user_id"])
    op.create_index("ix_custody_good", "custody", ["good"])
    op.create_index("ix_custody_on_day_id", "custody", ["on_day", "id"])
    with op.batch_alter_table("studio") as studio:
        studio.add_column(sa.Column("insured_minor", sa.Integer))
