"""Orders called off after the yes: what is owed by the studio's own table, and where the metal went."""

import sqlalchemy as sa
from alembic import op

revision = "0028"
down_revision = "0027"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the table; no studio has said yet what it keeps."""
    with op.batch_alter_table("studio") as studio:
        for name in ("kept_agreed_bp", "kept_cut_bp", "kept_bench_bp", "kept_ready_bp"):
            studio.add_column(sa.Column(name, sa.Integer))
    op.create_table(
        "callings_off",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("quote_id", sa.Integer, nullable=False),
        sa.Column("stage", sa.Text, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("total_minor", sa.BigInteger, nullable=False),
        sa.Column("paid_minor", sa.BigInteger, nullable=False),
        sa.Column("percent_bp", sa.Integer),
        sa.Column("owed_minor", sa.BigInteger),
        sa.Column("metal", sa.Text, nullable=False),
        sa.Column("called_off_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("ended_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_callings_off"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_callings_off_order_id_orders"),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name="fk_callings_off_quote_id_quotes"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_callings_off_user_id_users"),
        sa.CheckConstraint(
            "stage IN ('agreed', 'cut', 'at the bench', 'ready')", name="ck_callings_off_stage"
        ),
        sa.CheckConstraint(
            "total_minor >= 0 AND paid_minor >= 0 AND (owed_minor IS NULL OR owed_minor >= 0)",
            name="ck_callings_off_minor",
        ),
    )
    op.create_index("ix_callings_off_order_id", "callings_off", ["order_id"])
    op.create_index("ix_callings_off_quote_id", "callings_off", ["quote_id"])
    op.create_index("ix_callings_off_user_id", "callings_off", ["user_id"])
    holds = sa.text("ended_at IS NULL")
    op.create_index(
        "ix_callings_off_holding",
        "callings_off",
        ["order_id"],
        unique=True,
        sqlite_where=holds,
        postgresql_where=holds,
    )
