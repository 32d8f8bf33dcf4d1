"""The studio's practice: a row for each change, and which one each ring was reckoned by."""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table of the practices; the rings that are there went by common practice, which has no row."""
    op.create_table(
        "practices",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("since", sa.Date, nullable=False),
        sa.Column("figures", sa.Text, nullable=False),
        sa.Column("changed", sa.Text, nullable=False),
        sa.Column("is_carried", sa.Boolean, nullable=False),
        sa.Column("source", sa.Text, nullable=False),
        sa.Column("entered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_practices"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_practices_user_id_users"),
        sa.CheckConstraint("length(source) <= 300", name="ck_practices_source"),
    )
    op.create_index("ix_practices_since_id", "practices", ["since", "id"])
    op.create_index("ix_practices_user_id", "practices", ["user_id"])
    with op.batch_alter_table("rings") as rings:
        rings.add_column(sa.Column("practice_id", sa.Integer))
        rings.create_foreign_key("fk_rings_practice_id_practices", "practices", ["practice_id"], ["id"])
    op.create_index("ix_rings_practice_id", "rings", ["practice_id"])
