"""Orders, their rings, and the counters that number them."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables of orders, their rings, and the counters that number them."""
    op.create_table(
        "order_counters",
        sa.Column("year", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("last", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("year", name="pk_order_counters"),
    )
    op.create_table(
        "orders",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Text, nullable=False),
        sa.Column("year", sa.Integer, nullable=False),
        sa.Column("serial", sa.Integer, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("state_since", MOMENT, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("customer_id", sa.Integer, nullable=False),
        sa.Column("wanted_on", sa.Date),
        sa.Column("is_wanted_hard", sa.Boolean, nullable=False),
        sa.Column("promised_at", MOMENT),
        sa.Column("bench_on", sa.Date),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("agreed_name", sa.Text),
        sa.Column("agreed_at", MOMENT),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("changed_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_orders"),
        sa.UniqueConstraint("number", name="uq_orders_number"),
        sa.UniqueConstraint("year", "serial", name="uq_orders_year_serial"),
        sa.ForeignKeyConstraint(["customer_id"], ["customers.id"], name="fk_orders_customer_id_customers"),
        sa.CheckConstraint(
            "state IN ('draft', 'quoted', 'agreed', 'at the bench', 'ready', 'handed over', 'called off')",
            name="ck_orders_state",
        ),
        sa.CheckConstraint("version > 0", name="ck_orders_version"),
    )
    op.create_index("ix_orders_customer_id", "orders", ["customer_id"])
    op.create_index("ix_orders_bench_on", "orders", ["bench_on", "state"])
    listed = ["state_since", "customer_id", "wanted_on", "promised_at", "bench_on", "changed_at"]
    op.create_index("ix_orders_list", "orders", ["year", "serial", "number", "state", *listed])
    op.create_index("ix_orders_list_by_state", "orders", ["state", "year", "serial", "number", *listed])
    op.create_table(
        "rings",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("finger_id", sa.Integer, nullable=False),
        sa.Column("profile", sa.Text, nullable=False),
        sa.Column("width_um", sa.Integer, nullable=False),
        sa.Column("thickness_um", sa.Integer, nullable=False),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("stock", sa.Text, nullable=False),
        sa.Column("pattern", sa.Text, nullable=False),
        sa.Column("pattern_when", sa.Text),
        sa.Column("stretch_ppm", sa.Integer),
        sa.Column("fit_um", sa.Integer),
        sa.Column("reasons", sa.Text, nullable=False),
        sa.Column("circumference_um", sa.Integer, nullable=False),
        sa.Column("true_length_um", sa.Integer, nullable=False),
        sa.Column("mark_um", sa.Integer, nullable=False),
        sa.Column("issue_mg", sa.Integer, nullable=False),
        sa.Column("ring_mg", sa.Integer, nullable=False),
        sa.Column("finished_mg", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_rings"),
        sa.UniqueConstraint("order_id", "position", name="uq_rings_order_id_position"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_rings_order_id_orders"),
        sa.ForeignKeyConstraint(["finger_id"], ["fingers.id"], name="fk_rings_finger_id_fingers"),
        sa.CheckConstraint("position > 0", name="ck_rings_position"),
        sa.CheckConstraint(
            "profile IN ('flat', 'half-round', 'low-dome', 'court', 'flat-court', 'round', 'square', "
            "'knife-edge')",
            name="ck_rings_profile",
        ),
        sa.CheckConstraint("stock IN ('strip', 'wire')", name="ck_rings_stock"),
        sa.CheckConstraint("pattern IN ('plain', 'hammered', 'stamped', 'rolled')", name="ck_rings_pattern"),
        sa.CheckConstraint(
            "pattern_when IS NULL OR pattern_when IN ('flat', 'closed')", name="ck_rings_pattern_when"
        ),
        sa.CheckConstraint("width_um > 0 AND thickness_um > 0", name="ck_rings_sides"),
    )
    op.create_index("ix_rings_finger_id", "rings", ["finger_id"])
