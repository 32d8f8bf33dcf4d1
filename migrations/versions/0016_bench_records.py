"""What the bench measured on rings, and what a ring was reckoned by of what was learned until then."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table of the records; rings so far were reckoned by the practice alone."""
    op.create_table(
        "bench_records",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("ring", sa.Text, nullable=False),
        sa.Column("measured_on", sa.Date, nullable=False),
        sa.Column("pattern", sa.Text, nullable=False),
        sa.Column("pattern_when", sa.Text),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("metal", sa.Text, nullable=False),
        sa.Column("thickness_um", sa.Integer, nullable=False),
        sa.Column("before_um", sa.Integer),
        sa.Column("after_um", sa.Integer),
        sa.Column("closed_um", sa.Integer),
        sa.Column("formed_um", sa.Integer),
        sa.Column("tool", sa.Text, nullable=False),
        sa.Column("maker", sa.Text, nullable=False),
        sa.Column("wrong", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_bench_records"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_bench_records_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_bench_records_user_id_users"),
        sa.UniqueConstraint("order_id", "position", name="uq_bench_records_order_id_position"),
        sa.CheckConstraint(
            "position > 0 AND thickness_um > 0 AND version > 0", name="ck_bench_records_numbers"
        ),
        sa.CheckConstraint(
            "pattern IN ('plain', 'hammered', 'stamped', 'rolled')", name="ck_bench_records_pattern"
        ),
        sa.CheckConstraint(
            "metal IN ('gold', 'silver', 'platinum', 'palladium',"
            " 'copper', 'brass', 'bronze', 'nickel silver')",
            name="ck_bench_records_metal",
        ),
        sa.CheckConstraint(
            "pattern_when IS NULL OR pattern_when IN ('flat', 'closed')", name="ck_bench_records_pattern_when"
        ),
        sa.CheckConstraint(
            "(before_um IS NULL) = (after_um IS NULL)"
            " AND (before_um IS NULL OR (before_um > 0 AND after_um > 0))",
            name="ck_bench_records_pattern_lengths",
        ),
        sa.CheckConstraint(
            "(closed_um IS NULL OR closed_um > 0) AND (formed_um IS NULL OR formed_um > 0)",
            name="ck_bench_records_sizes",
        ),
    )
    op.create_index("ix_bench_records_measured_on_id", "bench_records", ["measured_on", "id"])
    op.create_index("ix_bench_records_user_id", "bench_records", ["user_id"])
    op.create_index("ix_bench_records_ring", "bench_records", ["ring"], unique=True)
    op.create_index("ix_bench_records_version", "bench_records", ["version"])
    op.add_column("rings", sa.Column("learned", sa.Text))
