"""Old gold bought in: its own register, what the seller said of themselves, and entries that were struck."""

import sqlalchemy as sa
from alembic import op

revision = "0048"
down_revision = "0047"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the three tables; sellers' particulars are kept three years unless the studio says otherwise."""
    op.create_table(
        "old_gold",
        sa.Column("id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("bought_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("bought_on", sa.Date, nullable=False),
        sa.Column("keep_until", sa.Date, nullable=False),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("fineness", sa.Integer, nullable=False),
        sa.Column("mass_mg", sa.Integer, nullable=False),
        sa.Column("description", sa.Text, nullable=False),
        sa.Column("marks", sa.Text, nullable=False),
        sa.Column("tested", sa.Text, nullable=False),
        sa.Column("worth_minor", sa.Integer),
        sa.Column("paid_minor", sa.Integer, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("method", sa.Text, nullable=False),
        sa.Column("movement_id", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_old_gold"),
        sa.ForeignKeyConstraint(
            ["movement_id"], ["metal_ledger.id"], name="fk_old_gold_movement_id_metal_ledger"
        ),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_old_gold_user_id_users"),
        sa.CheckConstraint(
            "id > 0 AND mass_mg > 0 AND fineness > 0 AND fineness <= 1000 AND paid_minor >= 0",
            name="ck_old_gold_numbers",
        ),
        sa.CheckConstraint(
            "method IN ('not said', 'cash', 'card', 'bank transfer', 'cheque', 'other')",
            name="ck_old_gold_method",
        ),
    )
    op.create_index("ix_old_gold_movement_id", "old_gold", ["movement_id"])
    op.create_index("ix_old_gold_user_id", "old_gold", ["user_id"])
    op.create_table(
        "old_gold_sellers",
        sa.Column("old_gold_id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("address", sa.Text, nullable=False),
        sa.Column("identity", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("old_gold_id", name="pk_old_gold_sellers"),
        sa.ForeignKeyConstraint(
            ["old_gold_id"], ["old_gold.id"], name="fk_old_gold_sellers_old_gold_id_old_gold"
        ),
        sa.CheckConstraint("length(name) > 0 AND length(identity) > 0", name="ck_old_gold_sellers_named"),
    )
    op.create_table(
        "old_gold_strikes",
        sa.Column("old_gold_id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("struck_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("why", sa.Text, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("old_gold_id", name="pk_old_gold_strikes"),
        sa.ForeignKeyConstraint(
            ["old_gold_id"], ["old_gold.id"], name="fk_old_gold_strikes_old_gold_id_old_gold"
        ),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_old_gold_strikes_user_id_users"),
    )
    op.create_index("ix_old_gold_strikes_user_id", "old_gold_strikes", ["user_id"])
    with op.batch_alter_table("studio") as studio:
        studio.add_column(sa.Column("seller_years", sa.Integer, nullable=False, server_default="3"))
    with op.batch_alter_table("studio") as studio:
        studio.alter_column("seller_years", server_default=None)
