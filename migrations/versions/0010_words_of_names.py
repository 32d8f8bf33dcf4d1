"""A search walks along an index, however large the book is."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

BY_SIGN = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
MANY = 5_000


def upgrade() -> None:
    """Keep the words of every customer's name, and index the orders by what they are searched by."""
    op.create_table(
        "customer_words",
        sa.Column("word", BY_SIGN, nullable=False),
        sa.Column("customer_id", sa.Integer, nullable=False, autoincrement=False),
        sa.PrimaryKeyConstraint("word", "customer_id", name="pk_customer_words"),
        sa.ForeignKeyConstraint(
            ["customer_id"], ["customers.id"], name="fk_customer_words_customer_id_customers"
        ),
    )
    op.create_index("ix_customer_words_customer_id_word", "customer_words", ["customer_id", "word"])
    _fill(op.get_bind())
    op.drop_index("ix_orders_customer_id", "orders")
    op.create_index("ix_orders_of_customer", "orders", ["customer_id", "year", "serial", "state", "id"])
    op.create_index("ix_orders_serial", "orders", ["serial", "year", "state", "id"])
    op.drop_index("ix_orders_bench_on", "orders")
    op.create_index("ix_orders_state_bench_on", "orders", ["state", "bench_on"])


def _fill(book: sa.Connection) -> None:
    last = 0
    customers = sa.text("SELECT id, name_folded FROM customers WHERE id > :last ORDER BY id LIMIT :many")
    into = sa.text("INSERT INTO customer_words (word, customer_id) VALUES (:word, :customer_id)")
    while found := book.execute(customers, {"last": last, "many": MANY}).all():
        words = [{"word": word, "customer_id": row.id} for row in found for word in _words(row.name_folded)]
        if words:
            book.execute(into, words)
        last = found[-1].id


def _words(folded: str) -> set[str]:
    """The words between spaces, and those between the signs within them: 'smythe-dahl', 'smythe', 'dahl'."""
    return {*folded.split(), *"".join(sign if sign.isalnum() else " " for sign in folded).split()}
