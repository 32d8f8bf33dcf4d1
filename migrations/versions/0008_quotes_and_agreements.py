"""Quotes, their papers, how they were sent, and the yes to them."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

MOMENT = sa.DateTime(timezone=True)
STANDS = sa.text("state <> 'superseded'")
HOLDS = sa.text("ended_at IS NULL")


def upgrade() -> None:
    """Make the tables of the quotes. Orders agreed before keep their state; they have no agreement here."""
    op.create_table(
        "quotes",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("number", sa.Text, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("revision", sa.Integer, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
        sa.Column("issued_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("valid_until", sa.Date, nullable=False),
        sa.Column("currency", sa.Text, nullable=False),
        sa.Column("net_minor", sa.BigInteger, nullable=False),
        sa.Column("tax_minor", sa.BigInteger, nullable=False),
        sa.Column("total_minor", sa.BigInteger, nullable=False),
        sa.Column("deposit_minor", sa.BigInteger, nullable=False),
        sa.Column("lines", sa.Text, nullable=False),
        sa.Column("frozen", sa.Text, nullable=False),
        sa.Column("superseded_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_quotes"),
        sa.UniqueConstraint("number", name="uq_quotes_number"),
        sa.UniqueConstraint("order_id", "revision", name="uq_quotes_order_id_revision"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_quotes_order_id_orders"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_quotes_user_id_users"),
        sa.CheckConstraint("state IN ('open', 'agreed', 'superseded')", name="ck_quotes_state"),
        sa.CheckConstraint("revision > 0", name="ck_quotes_revision"),
        sa.CheckConstraint("net_minor + tax_minor = total_minor", name="ck_quotes_total_minor"),
    )
    op.create_index("ix_quotes_user_id", "quotes", ["user_id"])
    op.create_index(
        "ix_quotes_standing",
        "quotes",
        ["order_id"],
        unique=True,
        sqlite_where=STANDS,
        postgresql_where=STANDS,
    )
    op.create_table(
        "quote_papers",
        sa.Column("quote_id", sa.Integer, nullable=False, autoincrement=False),
        sa.Column("pdf", sa.LargeBinary, nullable=False),
        sa.Column("sha256", sa.Text, nullable=False),
        sa.Column("rendered_at", MOMENT, nullable=False),
        sa.PrimaryKeyConstraint("quote_id", name="pk_quote_papers"),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name="fk_quote_papers_quote_id_quotes"),
    )
    op.create_table(
        "quote_sendings",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("quote_id", sa.Integer, nullable=False),
        sa.Column("at", MOMENT, nullable=False),
        sa.Column("how", sa.Text, nullable=False),
        sa.Column("sent_to", sa.Text, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_quote_sendings"),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name="fk_quote_sendings_quote_id_quotes"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_quote_sendings_user_id_users"),
    )
    op.create_index("ix_quote_sendings_quote_id", "quote_sendings", ["quote_id"])
    op.create_index("ix_quote_sendings_user_id", "quote_sendings", ["user_id"])
    op.create_table(
        "agreements",
        sa.Column("id", sa.Integer, nullable=False),
        sa.Column("order_id", sa.Integer, nullable=False),
        sa.Column("quote_id", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("agreed_at", MOMENT, nullable=False),
        sa.Column("user_id", sa.Integer),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("reason", sa.Text),
        sa.Column("deposit_asked_minor", sa.BigInteger, nullable=False),
        sa.Column("deposit_minor", sa.BigInteger),
        sa.Column("without_deposit", sa.Text),
        sa.Column("deposit_at", MOMENT),
        sa.Column("deposit_actor", sa.Text),
        sa.Column("ended_at", MOMENT),
        sa.PrimaryKeyConstraint("id", name="pk_agreements"),
        sa.ForeignKeyConstraint(["order_id"], ["orders.id"], name="fk_agreements_order_id_orders"),
        sa.ForeignKeyConstraint(["quote_id"], ["quotes.id"], name="fk_agreements_quote_id_quotes"),
        sa.ForeignKeyConstraint(["user_id"], ["users.id"], name="fk_agreements_user_id_users"),
        sa.CheckConstraint("deposit_minor IS NULL OR deposit_minor > 0", name="ck_agreements_deposit_minor"),
    )
    for column in ("order_id", "quote_id", "user_id"):
        op.create_index(f"ix_agreements_{column}", "agreements", [column])
    op.create_index(
        "ix_agreements_holding",
        "agreements",
        ["order_id"],
        unique=True,
        sqlite_where=HOLDS,
        postgresql_where=HOLDS,
    )
