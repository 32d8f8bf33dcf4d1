from pathlib import Path

import pytest

from studio.book.customers import customer
from studio.book.engine import open_book, session
from studio.book.order_reads import order, orders_page, state_counts
from studio.book.quote_reads import quote_breakdown
from studio.book.schema import faults
from tests.benchmarks.books import make_book_of

ORDERS = 180


@pytest.mark.parametrize("kind", ["file", "server"])
def test_a_big_book_is_made_of_whole_orders(
    kind: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    wanted = tmp_path / "book.db" if kind == "file" else str(request.getfixturevalue("empty_database"))
    engine = open_book(make_book_of(wanted, ORDERS))
    with session(engine) as book:
        assert sum(state_counts(book).values()) == ORDERS
        lines = orders_page(book, limit=ORDERS).items
        assert len({line.number for line in lines}) == ORDERS
        for line in lines:
            read = order(book, line.number)
            assert read.created_at.year == int(line.number[:4])
            assert read.customer.name == line.customer_name
            assert line.number in {found.number for found in customer(book, line.customer_id).orders}
            assert line.number in {
                found.number for found in orders_page(book, query=line.customer_name).items
            }
            for quote in read.quotes:
                assert quote.number.startswith((f"{line.number}-q", f"{line.number}-a"))
                assert quote_breakdown(book, quote.number).total_minor == quote.total_minor
    assert faults(engine) == []
    engine.dispose()
