"""Where things lie: the studio's own places, and each time a thing was put down in one."""

import sqlalchemy as sa
from alembic import op

revision = "0042"
down_revision = "0041"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make both tables; nobody has said yet where anything lies."""
    op.create_table(
        "places",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("is_dropped", sa.Boolean, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_places"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_places_user_id_users"),
        sa.CheckConstraint("length(name) > 0 AND version > 0", name="ck_places_named"),
    )
    op.create_index("ix_places_user_id", "places", ["user_id"])
    op.create_table(
        "place_moves",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("thing", sa.Text, nullable=False),
        sa.Column("place_id", sa.Integer),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_place_moves"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_place_moves_order_id_orders"),
        sa.ForeignKeyConstraint(["place_id"], ["places.id"], name="fk_place_moves_place_id_places"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_place_moves_user_id_users"),
    )
    op.create_index("ix_place_moves_order_id_id", "place_moves", ["order_id", "id"])
    for column in ("place_id", "user_id"):
        op.create_index(f"ix_place_moves_{column}", "place_moves", [column])
