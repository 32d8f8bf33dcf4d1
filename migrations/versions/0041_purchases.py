"""Metal ordered of a supplier: the purchases, and each thing of them until it arrives or is called off."""

import sqlalchemy as sa
from alembic import op

revision = "0041"
down_revision = "0040"
branch_labels = None
depends_on = None

PROFILES = "'flat', 'half-round', 'low-dome', 'court', 'flat-court', 'round', 'square', 'knife-edge'"


def upgrade() -> None:
    """Make both tables; nothing was noted as ordered until now."""
    op.create_table(
        "purchases",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("supplier", sa.Text, nullable=False),
        sa.Column("ordered_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("ordered_on", sa.Date, nullable=False),
        sa.Column("expected_on", sa.Date, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_purchases"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_purchases_user_id_users"),
        sa.CheckConstraint("version > 0", name="ck_purchases_version"),
    )
    op.create_index("ix_purchases_user_id", "purchases", ["user_id"])
    op.create_table(
        "purchase_lines",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("purchase_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("supply_id", sa.Integer),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("profile", sa.Text),
        sa.Column("length_um", sa.Integer, nullable=False),
        sa.Column("width_um", sa.Integer, nullable=False),
        sa.Column("thickness_um", sa.Integer, nullable=False),
        sa.Column("mass_mg", sa.Integer, nullable=False),
        sa.Column("cost_minor", sa.Integer),
        sa.Column("rings", sa.Text, nullable=False),
        sa.Column("piece_id", sa.Integer),
        sa.Column("arrived_mg", sa.Integer),
        sa.Column("settled_at", sa.DateTime(timezone=True)),
        sa.PrimaryKeyConstraint("id", name="pk_purchase_lines"),
        sa.ForeignKeyConstraint(
            ["purchase_id"], ["purchases.id"], name="fk_purchase_lines_purchase_id_purchases"
        ),
        sa.ForeignKeyConstraint(["supply_id"], ["supplies.id"], name="fk_purchase_lines_supply_id_supplies"),
        sa.ForeignKeyConstraint(["piece_id"], ["pieces.id"], name="fk_purchase_lines_piece_id_pieces"),
        sa.UniqueConstraint("purchase_id", "position", name="uq_purchase_lines_purchase_id_position"),
        sa.CheckConstraint("state IN ('ordered', 'arrived', 'called off')", name="ck_purchase_lines_state"),
        sa.CheckConstraint("kind IN ('sheet', 'strip', 'wire')", name="ck_purchase_lines_kind"),
        sa.CheckConstraint(f"profile IS NULL OR profile IN ({PROFILES})", name="ck_purchase_lines_profile"),
        sa.CheckConstraint("(profile IS NULL) = (kind <> 'wire')", name="ck_purchase_lines_section"),
        sa.CheckConstraint(
            "(state = 'arrived') = (piece_id IS NOT NULL) AND (piece_id IS NULL) = (arrived_mg IS NULL)",
            name="ck_purchase_lines_arrived",
        ),
        sa.CheckConstraint(
            "length_um > 0 AND width_um > 0 AND thickness_um > 0 AND mass_mg > 0",
            name="ck_purchase_lines_numbers",
        ),
    )
    for column in ("supply_id", "piece_id"):
        op.create_index(f"ix_purchase_lines_{column}", "purchase_lines", [column])
    op.create_index("ix_purchase_lines_state", "purchase_lines", ["state"])
