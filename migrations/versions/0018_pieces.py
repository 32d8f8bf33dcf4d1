"""The drawer: pieces of stock, what was cut from them, and the ring that a blank was cut for."""

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None

PROFILES = "'flat', 'half-round', 'low-dome', 'court', 'flat-court', 'round', 'square', 'knife-edge'"
METALS = "'gold', 'silver', 'platinum', 'palladium', 'copper', 'brass', 'bronze', 'nickel silver'"


def upgrade() -> None:
    """Make both tables; no ring so far is booked as cut."""
    op.create_table(
        "cuts",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("booked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("kerf_um", sa.Integer, nullable=False),
        sa.Column("lemel_mg", sa.Integer, nullable=False),
        sa.Column("told", sa.Text, nullable=False),
        sa.Column("undone_at", sa.DateTime(timezone=True)),
        sa.Column("undone_by", sa.Text),
        sa.PrimaryKeyConstraint("id", name="pk_cuts"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_cuts_user_id_users"),
    )
    op.create_index("ix_cuts_booked_at", "cuts", ["booked_at"])
    op.create_index("ix_cuts_user_id", "cuts", ["user_id"])
    op.create_table(
        "pieces",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("metal", sa.Text, nullable=False),
        sa.Column("profile", sa.Text),
        sa.Column("length_um", sa.Integer, nullable=False),
        sa.Column("width_um", sa.Integer, nullable=False),
        sa.Column("thickness_um", sa.Integer, nullable=False),
        sa.Column("mass_mg", sa.Integer, nullable=False),
        sa.Column("is_weighed", sa.Boolean, nullable=False),
        sa.Column("lot", sa.Text, nullable=False),
        sa.Column("paid_minor", sa.Integer),
        sa.Column("place", sa.Text, nullable=False),
        sa.Column("owner_id", sa.Integer),
        sa.Column("order_id", sa.Integer),
        sa.Column("is_offcut", sa.Boolean, nullable=False),
        sa.Column("cut_id", sa.Integer),
        sa.Column("used_in_id", sa.Integer),
        sa.Column("gone", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("changed_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_pieces"),
        sa.ForeignKeyConstraint(["owner_id"], ["customers.id"], name="fk_pieces_owner_id_customers"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_pieces_order_id_orders"),
        sa.ForeignKeyConstraint(["cut_id"], ["cuts.id"], name="fk_pieces_cut_id_cuts"),
        sa.ForeignKeyConstraint(["used_in_id"], ["cuts.id"], name="fk_pieces_used_in_id_cuts"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_pieces_user_id_users"),
        sa.CheckConstraint(f"metal IN ({METALS})", name="ck_pieces_metal"),
        sa.CheckConstraint("kind IN ('sheet', 'strip', 'wire')", name="ck_pieces_kind"),
        sa.CheckConstraint(f"profile IS NULL OR profile IN ({PROFILES})", name="ck_pieces_profile"),
        sa.CheckConstraint("(profile IS NULL) = (kind <> 'wire')", name="ck_pieces_section"),
        sa.CheckConstraint(
            "length_um > 0 AND width_um > 0 AND thickness_um > 0 AND mass_mg > 0 AND version > 0",
            name="ck_pieces_numbers",
        ),
    )
    op.create_index("ix_pieces_there", "pieces", ["gone", "alloy", "thickness_um", "id"])
    for column in ("owner_id", "order_id", "cut_id", "used_in_id", "user_id"):
        op.create_index(f"ix_pieces_{column}", "pieces", [column])
    with op.batch_alter_table("rings") as rings:
        rings.add_column(sa.Column("cut_id", sa.Integer))
        rings.create_foreign_key("fk_rings_cut_id_cuts", "cuts", ["cut_id"], ["id"])
    op.create_index("ix_rings_cut_id", "rings", ["cut_id"])
