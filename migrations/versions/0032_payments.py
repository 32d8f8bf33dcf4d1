"""What was paid of an order, one entry each; until now an agreement kept the sum of its deposit alone."""

import sqlalchemy as sa
from alembic import op

revision = "0032"
down_revision = "0031"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the table, and let every deposit of a yes that holds be its order's first payment.

    How it was paid nobody wrote down. It has no receipt: none was given.
    """
    op.create_table(
        "payments",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Text, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("amount_minor", sa.BigInteger, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("method", sa.Text, nullable=False),
        sa.Column("reference", sa.Text, nullable=False),
        sa.Column("on_day", sa.Date, nullable=False),
        sa.Column("noted_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("undoes_id", sa.Integer),
        sa.Column("why", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_payments"),
        sa.UniqueConstraint("number", name="uq_payments_number"),
        sa.UniqueConstraint("undoes_id", name="uq_payments_undoes_id"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_payments_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_payments_user_id_users"),
        sa.ForeignKeyConstraint(["undoes_id"], ["payments.id"], name="fk_payments_undoes_id_payments"),
        sa.CheckConstraint("amount_minor <> 0", name="ck_payments_amount_minor"),
        sa.CheckConstraint(
            "method IN ('not said', 'cash', 'card', 'bank transfer', 'cheque', 'other')",
            name="ck_payments_method",
        ),
        sa.CheckConstraint("(undoes_id IS NULL) = (why = '')", name="ck_payments_why"),
    )
    op.create_index("ix_payments_order_id", "payments", ["order_id"])
    op.create_index("ix_payments_user_id", "payments", ["user_id"])
    day = "date(agreements.deposit_at)"
    if op.get_bind().dialect.name == "postgresql":
        day = "(agreements.deposit_at AT TIME ZONE 'UTC')::date"
    op.execute(
        f"""
        INSERT INTO payments (number, order_id, amount_minor, currency, method, reference, on_day, noted_at,
            actor, why)
        SELECT orders.number || '-p1', agreements.order_id, agreements.deposit_minor, quotes.currency,
            'not said', '', {day}, agreements.deposit_at, agreements.deposit_actor, ''
        FROM agreements
        JOIN orders ON orders.id = agreements.order_id
        JOIN quotes ON quotes.id = agreements.quote_id
        WHERE agreements.ended_at IS NULL AND agreements.deposit_minor IS NOT NULL
        ORDER BY agreements.id
        """  # noqa: S608  both ways of saying the day are ours
    )
    with op.batch_alter_table("documents") as documents:
        documents.drop_constraint("ck_documents_kind", type_="check")
        documents.create_check_constraint(
            "ck_documents_kind", "kind IN ('confirmation', 'receipt', 'return', 'payment')"
        )
