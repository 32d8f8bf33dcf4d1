"""The papers of an order besides its quotes, and what the studio says of goods taken in."""

import sqlalchemy as sa
from alembic import op

revision = "0030"
down_revision = "0029"
branch_labels = None
depends_on = None

CUSTODY = (
    "Your goods stay yours. We keep them with our own and give them back, or what is left of them, when the "
    "work is done or called off. Bring this receipt along when you collect them."
)


def upgrade() -> None:
    """Make the tables; every studio begins with the same words."""
    with op.batch_alter_table("studio") as studio:
        studio.add_column(sa.Column("custody_note", sa.Text, nullable=False, server_default=CUSTODY))
    op.create_table(
        "documents",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Text, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("issued_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("user_id", sa.Integer, nullable=True),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("goods", sa.Text, nullable=False),
        sa.Column("frozen", sa.Text, nullable=False),
        sa.CheckConstraint("kind IN ('confirmation', 'receipt', 'return')", name="ck_documents_kind"),
        sa.CheckConstraint("revision > 0", name="ck_documents_revision"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_documents_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_documents_user_id_users"),
        sa.PrimaryKeyConstraint("id", name="pk_documents"),
        sa.UniqueConstraint("number", name="uq_documents_number"),
        sa.UniqueConstraint("order_id", "kind", "revision", name="uq_documents_order_id_kind_revision"),
    )
    op.create_index("ix_documents_user_id", "documents", ["user_id"])
    op.create_table(
        "document_papers",
        sa.Column("document_id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("pdf", sa.LargeBinary, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("rendered_at", sa.DateTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["documents.id"], name="fk_document_papers_document_id_documents"
        ),
        sa.PrimaryKeyConstraint("document_id", name="pk_document_papers"),
    )
