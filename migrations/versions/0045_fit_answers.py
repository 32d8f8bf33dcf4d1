"""What customers say of the fit after weeks, and after how many weeks they are asked."""

import sqlalchemy as sa
from alembic import op

revision = "0045"
down_revision = "0044"
branch_labels = None
depends_on = None

PROFILES = "'flat', 'half-round', 'low-dome', 'court', 'flat-court', 'round', 'square', 'knife-edge'"


def upgrade() -> None:
    """Make the table; the fit is asked after three weeks, and nobody has answered yet."""
    op.create_table(
        "fit_answers",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("ring", sa.Text, nullable=False),
        sa.Column("profile", sa.Text, nullable=False),
        sa.Column("width_um", sa.Integer, nullable=False),
        sa.Column("allowed_um", sa.Integer, nullable=False),
        sa.Column("verdict", sa.Text, nullable=False),
        sa.Column("off_um", sa.Integer),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("answered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_fit_answers"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_fit_answers_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_fit_answers_user_id_users"),
        sa.UniqueConstraint("order_id", "position", name="uq_fit_answers_order_id_position"),
        sa.CheckConstraint("position > 0 AND width_um > 0", name="ck_fit_answers_numbers"),
        sa.CheckConstraint(f"profile IN ({PROFILES})", name="ck_fit_answers_profile"),
        sa.CheckConstraint(
            "verdict IN ('too tight', 'right', 'loose', 'no answer')", name="ck_fit_answers_verdict"
        ),
        sa.CheckConstraint(
            "off_um IS NULL OR (off_um > 0 AND verdict IN ('too tight', 'loose'))", name="ck_fit_answers_off"
        ),
    )
    op.create_index("ix_fit_answers_user_id", "fit_answers", ["user_id"])
    op.create_index("ix_orders_state_state_since", "orders", ["state", "state_since"])
    with op.batch_alter_table("studio") as studio:
        studio.add_column(sa.Column("fit_weeks", sa.Integer, nullable=False, server_default="3"))
    with op.batch_alter_table("studio") as studio:
        studio.alter_column("fit_weeks", server_default=None)
