"""PINs of people, and the devices at the bench on which they are typed."""

import sqlalchemy as sa
from alembic import op

revision = "0038"
down_revision = "0037"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the tables; nobody has a PIN yet, and no device stands at the bench."""
    op.create_table(
        "pins",
        sa.Column("user_id", sa.Integer, nullable=False),
        sa.Column("pin_hash", sa.Text, nullable=False),
        sa.Column("set_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("user_id", name="pk_pins"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_pins_user_id_users"),
    )
    op.create_table(
        "bench_devices",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("key_hash", sa.Text, nullable=False),
        sa.Column("user_id", sa.Integer, nullable=False),
        sa.Column("created_at", MOMENT, nullable=False),
        sa.Column("maker_id", sa.Integer),
        sa.Column("maker_seen_at", MOMENT),
        sa.Column("ended_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_bench_devices"),
        sa.UniqueConstraint("key_hash", name="uq_bench_devices_key_hash"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_bench_devices_user_id_users"),
        sa.ForeignKeyConstraint(["maker_id"], ["users.id"], name="fk_bench_devices_maker_id_users"),
        sa.CheckConstraint("length(name) > 0", name="ck_bench_devices_name"),
        sa.CheckConstraint("(maker_id IS NULL) = (maker_seen_at IS NULL)", name="ck_bench_devices_maker"),
    )
    op.create_index("ix_bench_devices_user_id", "bench_devices", ["user_id"])
    op.create_index("ix_bench_devices_maker_id", "bench_devices", ["maker_id"])
