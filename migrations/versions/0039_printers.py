"""The studio's printers: their paper, and how long a bar of 100 mm really comes out, across and down."""

import sqlalchemy as sa
from alembic import op

revision = "0039"
down_revision = "0038"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table; nobody measured a printer yet, so sheets stay as they are drawn."""
    op.create_table(
        "printers",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("paper", sa.Text, nullable=False),
        sa.Column("across_um", sa.Integer, nullable=False),
        sa.Column("down_um", sa.Integer, nullable=False),
        sa.Column("is_usual", sa.Boolean, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_printers"),
        sa.CheckConstraint("length(name) > 0", name="ck_printers_name"),
        sa.CheckConstraint("paper IN ('A4', 'A5', 'Letter')", name="ck_printers_paper"),
        sa.CheckConstraint(
            "across_um BETWEEN 90000 AND 110000 AND down_um BETWEEN 90000 AND 110000",
            name="ck_printers_lengths",
        ),
        sa.CheckConstraint("version > 0", name="ck_printers_version"),
    )
