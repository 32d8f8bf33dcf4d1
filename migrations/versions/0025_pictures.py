"""The pictures of an order: photos and sketches that a ring is made by."""

import sqlalchemy as sa
from alembic import op

revision = "0025"
down_revision = "0024"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the table. The pictures themselves stand last, so that a list reads past none of them."""
    op.create_table(
        "pictures",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("width_px", sa.Integer, nullable=False),
        sa.Column("height_px", sa.Integer, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("added_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("taken_away_at", MOMENT),
        sa.Column("small_jpeg", sa.LargeBinary),
        sa.Column("jpeg", sa.LargeBinary),
        sa.PrimaryKeyConstraint("id", name="pk_pictures"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_pictures_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_pictures_user_id_users"),
        sa.CheckConstraint("position IS NULL OR position > 0", name="ck_pictures_position"),
        sa.CheckConstraint("width_px > 0 AND height_px > 0", name="ck_pictures_sides"),
        sa.CheckConstraint(
            "(taken_away_at IS NULL) = (jpeg IS NOT NULL)"
            " AND (taken_away_at IS NULL) = (small_jpeg IS NOT NULL)",
            name="ck_pictures_kept",
        ),
    )
    op.create_index("ix_pictures_order_id_id", "pictures", ["order_id", "id"])
    op.create_index("ix_pictures_user_id", "pictures", ["user_id"])
