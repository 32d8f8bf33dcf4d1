"""What a ring was made as, the proof of its inscription signed, and the sheet of the hand-over."""

import sqlalchemy as sa
from alembic import op

revision = "0044"
down_revision = "0043"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)
SYSTEMS = "'uk', 'us', 'iso', 'jp', 'ch', 'de', 'hk', 'in'"


def upgrade() -> None:
    """Make both tables, let a document be the sheet of a hand-over, and say when the fit is asked after.

    Of rings handed over before nothing is written down: what the bench measured stands in its own tables.
    """
    op.create_table(
        "as_made",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("system", sa.Text, nullable=False),
        sa.Column("label", sa.Text, nullable=False),
        sa.Column("ordered_um", sa.Integer, nullable=False),
        sa.Column("size_um", sa.Integer),
        sa.Column("before_um", sa.Integer),
        sa.Column("after_um", sa.Integer),
        sa.Column("closed_um", sa.Integer),
        sa.Column("issued_mg", sa.Integer),
        sa.Column("finished_mg", sa.Integer),
        sa.Column("lot", sa.Text, nullable=False),
        sa.Column("makers", sa.Text, nullable=False),
        sa.Column("handed_over_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.PrimaryKeyConstraint("id", name="pk_as_made"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_as_made_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_as_made_user_id_users"),
        sa.UniqueConstraint("order_id", "position", name="uq_as_made_order_id_position"),
        sa.CheckConstraint("position > 0 AND ordered_um > 0", name="ck_as_made_numbers"),
        sa.CheckConstraint(f"system IN ({SYSTEMS})", name="ck_as_made_system"),
        sa.CheckConstraint(
            "(size_um IS NULL OR size_um > 0) AND (before_um IS NULL OR before_um > 0)"
            " AND (after_um IS NULL OR after_um > 0) AND (closed_um IS NULL OR closed_um > 0)"
            " AND (issued_mg IS NULL OR issued_mg > 0) AND (finished_mg IS NULL OR finished_mg > 0)",
            name="ck_as_made_figures",
        ),
    )
    op.create_index("ix_as_made_user_id", "as_made", ["user_id"])
    op.create_table(
        "inscription_proofs",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("position", sa.Integer, nullable=False),
        sa.Column("text", sa.Text, nullable=False),
        sa.Column("read_by", sa.Text, nullable=False),
        sa.Column("signed_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_inscription_proofs"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_inscription_proofs_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_inscription_proofs_user_id_users"),
        sa.CheckConstraint(
            "position > 0 AND text <> '' AND read_by <> ''", name="ck_inscription_proofs_said"
        ),
    )
    op.create_index("ix_inscription_proofs_order_id", "inscription_proofs", ["order_id"])
    op.create_index("ix_inscription_proofs_user_id", "inscription_proofs", ["user_id"])
    with op.batch_alter_table("documents") as documents:
        documents.drop_constraint("ck_documents_kind", type_="check")
        documents.create_check_constraint(
            "ck_documents_kind", "kind IN ('confirmation', 'receipt', 'return', 'payment', 'hand-over')"
        )
