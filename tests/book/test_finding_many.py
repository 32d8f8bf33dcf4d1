"""A search in a book where a name is met more often than anybody looks through."""

import pytest
from sqlalchemy import insert, select, update
from sqlmodel import Session, col

from studio.book.customer_tables import CustomerRow, CustomerWordRow
from studio.book.customers import find_customers
from studio.book.finding import MOST_FOUND
from studio.book.folding import folded, words_of
from studio.book.order_reads import orders_page, orders_page_and_counts, state_counts
from studio.book.order_tables import OrderRow
from studio.book.order_values import CustomerDraft
from studio.book.transaction import transaction
from studio.craft.orders import State
from tests.builders import NOW, an_order

SMITHS = MOST_FOUND + 5


@pytest.fixture
def crowd(session: Session) -> Session:
    """More Smiths with an order each than are looked up, and after them a Marchbanks and one Smith more."""
    with transaction(session):
        book = session.connection()
        names = [f"Anna Smith {turn}" for turn in range(SMITHS)]
        book.execute(
            insert(CustomerRow),
            [{"name": name, "name_folded": folded(name), "created_at": NOW} for name in names],
        )
        ids = {
            row.name_folded: row.id
            for row in book.execute(select(col(CustomerRow.name_folded), col(CustomerRow.id)))
        }
        book.execute(
            insert(CustomerWordRow),
            [
                {"word": word, "customer_id": customer_id}
                for name, customer_id in ids.items()
                for word in words_of(name)
            ],
        )
        book.execute(
            insert(OrderRow),
            [
                {
                    "number": f"2020-{serial}",
                    "year": 2020,
                    "serial": serial,
                    "state": State.HANDED_OVER if serial % 2 else State.CALLED_OFF,
                    "state_since": NOW,
                    "customer_id": customer_id,
                    "created_at": NOW,
                    "changed_at": NOW,
                }
                for serial, customer_id in enumerate(ids.values(), 1)
            ],
        )
    an_order(session, customer=CustomerDraft("Thea Marchbanks"))
    an_order(session, customer=CustomerDraft("Jorun Smith", "01632 960 715"))
    return session


def numbers(session: Session, query: str, **asked: object) -> list[str]:
    return [line.number for line in orders_page(session, query=query, now=NOW, **asked).items]  # type: ignore[arg-type]  # the test's own words


def test_of_very_many_the_newest_come_first_page_by_page(crowd: Session) -> None:
    newest = numbers(crowd, "smith", limit=3)
    assert newest == ["2026-2", f"2020-{SMITHS}", f"2020-{SMITHS - 1}"]
    assert numbers(crowd, "smith", limit=2, after=newest[-1]) == [f"2020-{SMITHS - 2}", f"2020-{SMITHS - 3}"]
    assert numbers(crowd, "an smi", limit=2) == [f"2020-{SMITHS}", f"2020-{SMITHS - 1}"]


def test_of_very_many_those_in_a_state_are_found(crowd: Session) -> None:
    called_off = numbers(crowd, "smith", limit=2, state=State.CALLED_OFF)
    assert called_off == [f"2020-{serial}" for serial in range(SMITHS, 0, -1) if serial % 2 == 0][:2]
    assert numbers(crowd, "smith", state=State.READY) == []


def test_very_many_are_not_counted_by_a_search_and_all_orders_only_so_far(crowd: Session) -> None:
    assert state_counts(crowd, "smith") == {}
    page, counts = orders_page_and_counts(crowd, query="jorun smith", now=NOW)
    assert [line.number for line in page.items] == ["2026-2"]
    assert counts == {state: int(state is State.DRAFT) for state in State}
    assert sum(state_counts(crowd).values()) == SMITHS + 2


def test_a_count_stops_where_nobody_counts_further(crowd: Session) -> None:
    with transaction(crowd):
        crowd.connection().execute(
            update(OrderRow).where(col(OrderRow.year) == 2020).values(state=State.READY)
        )
    assert state_counts(crowd)[State.READY] == MOST_FOUND + 1


def test_of_very_many_customers_some_are_offered_and_two_words_find_the_one(crowd: Session) -> None:
    assert len(find_customers(crowd, "smith", limit=8)) == 8
    assert [line.name for line in find_customers(crowd, "smith jor")] == ["Jorun Smith"]
    assert [line.name for line in find_customers(crowd, "0715")] == ["Jorun Smith"]
