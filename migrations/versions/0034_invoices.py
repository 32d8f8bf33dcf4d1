"""Invoices and credit notes, the counter of their numbers, what a studio says of them; payments by day."""

import sqlalchemy as sa
from alembic import op

revision = "0034"
down_revision = "0033"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)
NOTHING = sa.text("''")


def upgrade() -> None:
    """Make the tables; every studio begins without a tax number, a prefix, invoices on account and a note."""
    with op.batch_alter_table("studio") as studio:
        for name in ("tax_number", "invoice_prefix", "invoice_note"):
            studio.add_column(sa.Column(name, sa.Text, nullable=False, server_default=NOTHING))
        studio.add_column(
            sa.Column("invoices_on_account", sa.Boolean, nullable=False, server_default=sa.false())
        )
    op.create_table(
        "invoice_counters",
        sa.Column("year", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("last", sa.Integer, nullable=False),
        sa.CheckConstraint("last > 0", name="ck_invoice_counters_last"),
        sa.PrimaryKeyConstraint("year", name="pk_invoice_counters"),
    )
    op.create_table(
        "invoices",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Text, nullable=False),
        sa.Column("year", sa.Integer, nullable=False),
        sa.Column("serial", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("kind", sa.Text, nullable=False),
        sa.Column("issued_at", MOMENT, nullable=False),
        sa.Column("issued_on", sa.Date, nullable=False),
        sa.Column("user_id", sa.Integer, nullable=True),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("customer", sa.Text, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("net_minor", sa.BigInteger, nullable=False),
        sa.Column("tax_minor", sa.BigInteger, nullable=False),
        sa.Column("sums", sa.Text, nullable=False),
        sa.Column("payment", sa.Text, nullable=True),
        sa.Column("credits_id", sa.Integer, nullable=True),
        sa.Column("reason", sa.Text, nullable=False),
        sa.Column("frozen", sa.Text, nullable=False),
        sa.CheckConstraint("kind IN ('invoice', 'on account', 'credit note')", name="ck_invoices_kind"),
        sa.CheckConstraint("serial > 0", name="ck_invoices_serial"),
        sa.CheckConstraint("(kind = 'credit note') = (credits_id IS NOT NULL)", name="ck_invoices_credits"),
        sa.CheckConstraint("(kind = 'on account') = (payment IS NOT NULL)", name="ck_invoices_payment"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_invoices_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_invoices_user_id_users"),
        sa.ForeignKeyConstraint(["credits_id"], ["invoices.id"], name="fk_invoices_credits_id_invoices"),
        sa.PrimaryKeyConstraint("id", name="pk_invoices"),
        sa.UniqueConstraint("number", name="uq_invoices_number"),
        sa.UniqueConstraint("year", "serial", name="uq_invoices_year_serial"),
        sa.UniqueConstraint("payment", name="uq_invoices_payment"),
    )
    op.create_index("ix_invoices_order_id", "invoices", ["order_id"])
    op.create_index("ix_invoices_user_id", "invoices", ["user_id"])
    op.create_index("ix_invoices_credits_id", "invoices", ["credits_id"])
    op.create_index("ix_invoices_issued_on_id", "invoices", ["issued_on", "id"])
    op.create_index("ix_payments_on_day_id", "payments", ["on_day", "id"])
    op.create_table(
        "invoice_papers",
        sa.Column("invoice_id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("pdf", sa.LargeBinary, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("rendered_at", MOMENT, nullable=False),
        sa.ForeignKeyConstraint(
            ["invoice_id"], ["invoices.id"], name="fk_invoice_papers_invoice_id_invoices"
        ),
        sa.PrimaryKeyConstraint("invoice_id", name="pk_invoice_papers"),
    )
