"""Work done outside: who does it, the slips things go out with, and what came back."""

import sqlalchemy as sa
from alembic import op

revision = "0043"
down_revision = "0042"
branch_labels = None
depends_on = None

TRADES = "'setter', 'engraver', 'assay office', 'caster', 'plater', 'other'"


def upgrade() -> None:
    """Make the three tables; no slip was written until now."""
    op.create_table(
        "outworkers",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("trade", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("is_dropped", sa.Boolean, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_outworkers"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_outworkers_user_id_users"),
        sa.CheckConstraint("length(name) > 0 AND version > 0", name="ck_outworkers_named"),
        sa.CheckConstraint(f"trade IN ({TRADES})", name="ck_outworkers_trade"),
    )
    op.create_index("ix_outworkers_user_id", "outworkers", ["user_id"])
    op.create_table(
        "outwork",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Text, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("outworker_id", sa.Integer, nullable=False),
        sa.Column("worker", sa.Text, nullable=False),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("held_by", sa.Text, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("value_minor", sa.Integer, nullable=False),
        sa.Column("weight_out_mg", sa.Integer),
        sa.Column("due_on", sa.Date, nullable=False),
        sa.Column("expected_minor", sa.Integer),
        sa.Column("out_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("frozen", sa.Text, nullable=False),
        sa.Column("back_at", sa.DateTime(timezone=True)),
        sa.Column("back_by", sa.Text),
        sa.Column("back_user_id", sa.Integer),
        sa.Column("weight_in_mg", sa.Integer),
        sa.Column("cost_minor", sa.Integer),
        sa.Column("condition", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_outwork"),
        sa.UniqueConstraint("number", name="uq_outwork_number"),
        sa.UniqueConstraint("order_id", "revision", name="uq_outwork_order_id_revision"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_outwork_order_id_orders"),
        sa.ForeignKeyConstraint(
            ["outworker_id"], ["outworkers.id"], name="fk_outwork_outworker_id_outworkers"
        ),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_outwork_user_id_users"),
        sa.ForeignKeyConstraint(["back_user_id"], ["users.id"], name="fk_outwork_back_user_id_users"),
        sa.CheckConstraint("revision > 0 AND value_minor >= 0", name="ck_outwork_numbers"),
        sa.CheckConstraint(
            "(weight_out_mg IS NULL OR weight_out_mg > 0) AND (weight_in_mg IS NULL OR weight_in_mg > 0)",
            name="ck_outwork_weights",
        ),
        sa.CheckConstraint("(back_at IS NULL) = (back_by IS NULL)", name="ck_outwork_back"),
    )
    for column in ("outworker_id", "user_id", "back_user_id"):
        op.create_index(f"ix_outwork_{column}", "outwork", [column])
    op.create_index("ix_outwork_back_at_due_on", "outwork", ["back_at", "due_on"])
    op.create_table(
        "outwork_things",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("outwork_id", sa.Integer, nullable=False),
        sa.Column("thing", sa.Text, nullable=False),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("out", sa.Text),
        sa.PrimaryKeyConstraint("id", name="pk_outwork_things"),
        sa.UniqueConstraint("outwork_id", "thing", name="uq_outwork_things_outwork_id_thing"),
        sa.UniqueConstraint("out", name="uq_outwork_things_out"),
        sa.ForeignKeyConstraint(["outwork_id"], ["outwork.id"], name="fk_outwork_things_outwork_id_outwork"),
    )
