"""Which order mends which ring of an earlier one, why, and who pays."""

import sqlalchemy as sa
from alembic import op

revision = "0026"
down_revision = "0025"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table; of the orders so far nobody said that one mends another."""
    op.create_table(
        "mendings",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("mended_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("cause", sa.Text),
        sa.Column("words", sa.Text, nullable=False),
        sa.Column("paid_by", sa.Text),
        sa.PrimaryKeyConstraint("id", name="pk_mendings"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_mendings_order_id_orders"),
        sa.ForeignKeyConstraint(["mended_id"], ["orders.id"], name="fk_mendings_mended_id_orders"),
        sa.CheckConstraint("position > 0", name="ck_mendings_position"),
        sa.CheckConstraint("order_id <> mended_id", name="ck_mendings_other"),
        sa.CheckConstraint("kind IN ('remake', 'resize', 'repair')", name="ck_mendings_kind"),
        sa.CheckConstraint(
            "cause IS NULL OR cause IN ('measured wrong', 'made wrong', 'finger has changed',"
            " 'worn or damaged in wear', 'lost', 'changed mind', 'other')",
            name="ck_mendings_cause",
        ),
        sa.CheckConstraint(
            "paid_by IS NULL OR paid_by IN ('customer', 'studio')", name="ck_mendings_paid_by"
        ),
    )
    op.create_index("ix_mendings_order_id", "mendings", ["order_id"], unique=True)
    op.create_index("ix_mendings_mended_id", "mendings", ["mended_id"])
