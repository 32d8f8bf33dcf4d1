"""The studio's gauges, and which one took a finger's measure, as it was calibrated then."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table of the gauges; fingers measured so far name none."""
    op.create_table(
        "gauges",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("system", sa.Text, nullable=False),
        sa.Column("width_um", sa.Integer),
        sa.Column("step_um", sa.Integer, nullable=False),
        sa.Column("correction_um", sa.Integer, nullable=False),
        sa.Column("calibrated_on", sa.Date),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("is_usual", sa.Boolean, nullable=False),
        sa.Column("is_put_away", sa.Boolean, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_gauges"),
        sa.CheckConstraint("length(name) > 0", name="ck_gauges_name"),
        sa.CheckConstraint("kind IN ('set', 'stick')", name="ck_gauges_kind"),
        sa.CheckConstraint("step_um > 0 AND (width_um IS NULL OR width_um > 0)", name="ck_gauges_lengths"),
        sa.CheckConstraint("version > 0", name="ck_gauges_version"),
    )
    op.add_column("fingers", sa.Column("gauge", sa.Text))
