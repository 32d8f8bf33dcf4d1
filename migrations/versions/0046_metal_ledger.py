"""The metal ledger: movements chained by their hashes, the refiner's lots and what was paid for them."""

import sqlalchemy as sa
from alembic import op

revision = "0046"
down_revision = "0045"
branch_labels = None
depends_on = None

ACCOUNTS = (
    "'drawer', 'bench', 'scrap box', 'lemel', 'before the ledger', 'supplier', 'customer',"
    " 'seller of old gold', 'sold', 'refiner', 'loss', 'difference'"
)
MOVES = (
    "'carried in', 'bought', 'customer metal in', 'old gold bought in', 'issued to the bench', 'offcut',"
    " 'lemel of the saw', 'returned from the bench', 'in a finished ring', 'filings',"
    " 'lemel collected', 'sweeps', 'scrap', 'solder and other gain', 'loss', 'taken out of the drawer',"
    " 'to the refiner', 'back from the refiner', 'stock-take difference', 'put right', 'correction'"
)


def upgrade() -> None:
    """Make the three tables. The ledger begins with what lies there when metal moves next."""
    op.create_table(
        "refiner_lots",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("refiner", sa.Text, nullable=False),
        sa.Column("sent_on", sa.Date, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("fineness", sa.Integer, nullable=False),
        sa.Column("mass_mg", sa.Integer, nullable=False),
        sa.Column("credited_bp", sa.Integer, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_refiner_lots"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_refiner_lots_user_id_users"),
        sa.CheckConstraint(
            "mass_mg > 0 AND fineness > 0 AND credited_bp > 0", name="ck_refiner_lots_numbers"
        ),
    )
    op.create_index("ix_refiner_lots_user_id", "refiner_lots", ["user_id"])
    op.create_table(
        "refiner_settlements",
        sa.Column("lot_id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("settled_on", sa.Date, nullable=False),
        sa.Column("assay_fineness", sa.Integer, nullable=False),
        sa.Column("paid_fine_mg", sa.Integer, nullable=False),
        sa.Column("charges_minor", sa.Integer, nullable=False),
        sa.Column("paid_minor", sa.Integer, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("lot_id", name="pk_refiner_settlements"),
        sa.ForeignKeyConstraint(
            ["lot_id"], ["refiner_lots.id"], name="fk_refiner_settlements_lot_id_refiner_lots"
        ),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_refiner_settlements_user_id_users"),
        sa.CheckConstraint(
            "assay_fineness >= 0 AND paid_fine_mg >= 0 AND charges_minor >= 0 AND paid_minor >= 0",
            name="ck_refiner_settlements_numbers",
        ),
    )
    op.create_index("ix_refiner_settlements_user_id", "refiner_settlements", ["user_id"])
    op.create_table(
        "metal_ledger",
        sa.Column("id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("on_day", sa.Date, nullable=False),
        sa.Column("what", sa.Text, nullable=False),
        sa.Column("source", sa.Text, nullable=False),
        sa.Column("target", sa.Text, nullable=False),
        sa.Column("alloy", sa.Text, nullable=False),
        sa.Column("mass_mg", sa.Integer, nullable=False),
        sa.Column("owner_id", sa.Integer),
        sa.Column("ring", sa.Text, nullable=False),
        sa.Column("operation", sa.Text, nullable=False),
        sa.Column("from_piece_id", sa.Integer),
        sa.Column("to_piece_id", sa.Integer),
        sa.Column("cut_id", sa.Integer),
        sa.Column("lot_id", sa.Integer),
        sa.Column("corrects_id", sa.Integer),
        sa.Column("note", sa.Text, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("hash", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_metal_ledger"),
        *(
            sa.ForeignKeyConstraint([column], [f"{table}.id"], name=f"fk_metal_ledger_{column}_{table}")
            for column, table in (
                ("owner_id", "customers"),
                ("from_piece_id", "pieces"),
                ("to_piece_id", "pieces"),
                ("cut_id", "cuts"),
                ("lot_id", "refiner_lots"),
                ("corrects_id", "metal_ledger"),
                ("user_id", "users"),
            )
        ),
        sa.UniqueConstraint("corrects_id", name="uq_metal_ledger_corrects_id"),
        sa.CheckConstraint("id > 0 AND mass_mg > 0", name="ck_metal_ledger_numbers"),
        sa.CheckConstraint(f"what IN ({MOVES})", name="ck_metal_ledger_what"),
        sa.CheckConstraint(f"source IN ({ACCOUNTS})", name="ck_metal_ledger_source"),
        sa.CheckConstraint(f"target IN ({ACCOUNTS})", name="ck_metal_ledger_target"),
        sa.CheckConstraint(
            "source <> target OR (source = 'drawer' AND what = 'offcut')"
            " OR (source = 'drawer' AND what = 'correction')",
            name="ck_metal_ledger_moves",
        ),
    )
    for column in ("owner_id", "from_piece_id", "to_piece_id", "cut_id", "lot_id", "user_id"):
        op.create_index(f"ix_metal_ledger_{column}", "metal_ledger", [column])
    op.create_index("ix_metal_ledger_on_day_id", "metal_ledger", ["on_day", "id"])
    op.create_index("ix_metal_ledger_ring", "metal_ledger", ["ring"])
    for side in ("source", "target"):  # a balance is summed along these alone
        columns = [side, "alloy", "owner_id", "on_day", "mass_mg"]
        op.create_index(f"ix_metal_ledger_{'_'.join(columns)}", "metal_ledger", columns)
