"""What happens at the bench, step by step: a row each, none ever changed."""

import sqlalchemy as sa
from alembic import op

revision = "0037"
down_revision = "0036"
branch_labels = None
depends_on = None

WHAT = "('started', 'stopped', 'done', 'noted', 'reopened', 'undone')"


def upgrade() -> None:
    """Make the table; nobody has worked by the tablet yet."""
    moment = sa.DateTime(timezone=True)
    op.create_table(
        "bench_work",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("serial", sa.Integer, nullable=False),
        sa.Column("operation", sa.Text, nullable=False),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("figure_um", sa.Integer),
        sa.Column("figure_mg", sa.Integer),
        sa.Column("minutes", sa.Integer),
        sa.Column("then_operation", sa.Text, nullable=False),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("undoes", sa.Integer),
        sa.Column("record_before", sa.Text),
        sa.Column("at", moment, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("maker", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_bench_work"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_bench_work_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_bench_work_user_id_users"),
        sa.UniqueConstraint("order_id", "position", "serial", name="uq_bench_work_order_id_position_serial"),
        sa.CheckConstraint("position > 0 AND serial > 0", name="ck_bench_work_numbers"),
        sa.CheckConstraint(f"what IN {WHAT}", name="ck_bench_work_what"),
        sa.CheckConstraint(
            "(figure_um IS NULL OR figure_um > 0) AND (figure_mg IS NULL OR figure_mg > 0)"
            " AND (figure_um IS NULL OR figure_mg IS NULL)",
            name="ck_bench_work_figure",
        ),
        sa.CheckConstraint("minutes IS NULL OR minutes > 0", name="ck_bench_work_minutes"),
        sa.CheckConstraint("(what = 'undone') = (undoes IS NOT NULL)", name="ck_bench_work_undoes"),
    )
    op.create_index("ix_bench_work_user_id", "bench_work", ["user_id"])
