"""What suppliers sell: the sizes, steps and least quantities of each, and how long it takes."""

import sqlalchemy as sa
from alembic import op

revision = "0040"
down_revision = "0039"
branch_labels = None
depends_on = None

PROFILES = "'flat', 'half-round', 'low-dome', 'court', 'flat-court', 'round', 'square', 'knife-edge'"


def upgrade() -> None:
    """Make the table; nobody has said yet what is sold."""
    op.create_table(
        "supplies",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("supplier", sa.Text, nullable=False),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("profile", sa.Text),
        sa.Column("thickness_um", sa.Integer, nullable=False),
        sa.Column("least_width_um", sa.Integer, nullable=False),
        sa.Column("width_step_um", sa.Integer, nullable=False),
        sa.Column("length_step_um", sa.Integer, nullable=False),
        sa.Column("least_length_um", sa.Integer, nullable=False),
        sa.Column("most_length_um", sa.Integer, nullable=False),
        sa.Column("least_mass_mg", sa.Integer, nullable=False),
        sa.Column("least_charge_minor", sa.Integer, nullable=False),
        sa.Column("lead_days", sa.Integer, nullable=False),
        sa.Column("spare_days", sa.Integer, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("is_dropped", sa.Boolean, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_supplies"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_supplies_user_id_users"),
        sa.CheckConstraint("kind IN ('sheet', 'strip', 'wire')", name="ck_supplies_kind"),
        sa.CheckConstraint(f"profile IS NULL OR profile IN ({PROFILES})", name="ck_supplies_profile"),
        sa.CheckConstraint("(profile IS NULL) = (kind <> 'wire')", name="ck_supplies_section"),
        sa.CheckConstraint(
            "thickness_um > 0 AND least_width_um > 0 AND width_step_um >= 0 AND length_step_um > 0 "
            "AND least_length_um > 0 AND most_length_um >= least_length_um AND least_mass_mg >= 0 "
            "AND least_charge_minor >= 0 AND lead_days >= 0 AND spare_days >= 0 AND version > 0",
            name="ck_supplies_numbers",
        ),
    )
    op.create_index("ix_supplies_user_id", "supplies", ["user_id"])
