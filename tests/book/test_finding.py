"""'Where is my ring?' is answered from a name, a number, or the end of a telephone number."""

from datetime import date, datetime, timedelta

import pytest
from sqlalchemy import Engine
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.customers import (
    CustomerDraft,
    add_customer,
    change_customer,
    customer,
    customers_page,
    find_customers,
    fingers_of,
)
from studio.book.errors import CustomerUnknown, OrderUnknown, VersionStale
from studio.book.folding import folded
from studio.book.order_list_values import DayKind, NextDay
from studio.book.order_reads import orders_page, state_counts
from studio.book.people import PROGRAM
from studio.craft.designs import System
from studio.craft.orders import State
from tests.builders import NOW, a_finger, a_ring, an_order

BENCH = date(2026, 12, 1)
WANTED = date(2026, 12, 19)
PROMISED = NOW + timedelta(days=12)


@pytest.fixture
def shelf(session: Session) -> Session:
    """Five customers with an order each, numbers 2026-1 to 2026-5."""
    for name, phone in (
        ("Jorun Müller", "01632 960 715"),
        ("Søren Ångström-Dahl", "+44 1632 960 044"),
        ("Ελένη Βασιλάκη", "(01632) 960-301"),
        ("Юлия Беркутова", None),
        ("Anna 100% Moller", "01632/96/0715 9"),
    ):
        an_order(session, customer=CustomerDraft(name, phone))
    return session


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ("muller", [1]),
        ("MÜLLER", [1]),
        ("mu\u0308ller", [1]),
        ("müller jorun", [1]),
        ("soren", [2]),
        ("angstrom", [2]),
        ("ελενη", [3]),
        ("беркут", [4]),
        ("100%", [5]),
        ("_", []),
        ("nobody", []),
        ("2026-3", [3]),
        (" 2026-3/1 ", [3]),
        ("2025-3", []),
        ("3", [3]),
        ("0715", [1]),
        ("07 15", [1]),
        ("960 715", [1]),
        ("960-715", [1]),
        ("01632960715", [1]),
        ("+44 1632 960 715", [1]),
        ("01632 960 044", [2]),
        ("0301", [3]),
        ("07159", [5]),
        ("", [5, 4, 3, 2, 1]),
        ("   ", [5, 4, 3, 2, 1]),
        ("😀", []),
        ("x" * 10_000, []),
    ],
)
def test_an_order_is_found(shelf: Session, query: str, found: list[int]) -> None:
    numbers = [line.number for line in orders_page(shelf, query=query, now=NOW).items]
    assert numbers == [f"2026-{serial}" for serial in found]
    assert sum(state_counts(shelf, query).values()) == len(found)


@pytest.mark.parametrize(
    ("query", "found"), [("0715", []), ("+44 1632 960 715", []), ("3", [3]), ("muller", [1]), ("2026-3", [3])]
)
def test_without_telephone_numbers_the_rest_is_found(shelf: Session, query: str, found: list[int]) -> None:
    lines = orders_page(shelf, query=query, by_phone=False, now=NOW).items
    assert [line.number for line in lines] == [f"2026-{serial}" for serial in found]
    assert sum(state_counts(shelf, query, by_phone=False).values()) == len(found)


def test_a_found_order_says_its_state_and_since_when(shelf: Session) -> None:
    (line,) = orders_page(shelf, query="0715", now=NOW).items
    assert (line.customer_name, line.state, line.state_since) == ("Jorun Müller", State.DRAFT, NOW)


def test_folding_leaves_letters_without_marks_or_case() -> None:
    assert folded(" MÜLLER  Åsa Straße Łódź Ærø ") == "muller asa strasse lodz aero"


@pytest.mark.parametrize("limit", [1, 2, 3, 7, 200])
def test_pages_hold_every_order_once_the_newest_first(session: Session, limit: int) -> None:
    for serial in range(7):
        an_order(session, state=State.QUOTED if serial % 3 == 0 else State.DRAFT)
    an_order(session, now=datetime(2027, 1, 2, 9, 0, tzinfo=NOW.tzinfo))
    for state, wanted in (
        (None, ["2027-1", *(f"2026-{n}" for n in range(7, 0, -1))]),
        (State.QUOTED, ["2026-7", "2026-4", "2026-1"]),
    ):
        numbers: list[str] = []
        after: str | None = None
        while True:
            page = orders_page(session, state=state, after=after, limit=limit, now=NOW)
            assert len(page.items) <= limit
            numbers += [line.number for line in page.items]
            after = page.next
            if after is None:
                break
        assert numbers == wanted


def test_a_page_asked_for_after_nonsense_is_refused(session: Session) -> None:
    with pytest.raises(OrderUnknown):
        orders_page(session, after="yesterday")


def test_a_list_is_read_from_its_index_alone(session: Session) -> None:
    plan = session.connection().exec_driver_sql(
        "EXPLAIN QUERY PLAN SELECT id, number, customer_id, state, state_since, changed_at, wanted_on, "
        "promised_at, bench_on FROM orders WHERE (year, serial) < (2026, 40) ORDER BY year DESC, serial DESC"
    )
    assert [row.detail for row in plan if "COVERING INDEX ix_orders_list " in row.detail]


def test_counts_name_every_state(shelf: Session) -> None:
    assert state_counts(shelf) == {state: 5 if state is State.DRAFT else 0 for state in State}


@pytest.mark.parametrize(
    ("state", "promised_at", "bench_on", "day"),
    [
        (State.DRAFT, None, None, NextDay(DayKind.WANTED, WANTED)),
        (State.QUOTED, None, BENCH, NextDay(DayKind.WANTED, WANTED)),
        (State.AGREED, PROMISED, BENCH, NextDay(DayKind.BENCH, BENCH)),
        (State.AGREED, PROMISED, None, NextDay(DayKind.PROMISED, PROMISED.date(), PROMISED)),
        (State.AT_THE_BENCH, PROMISED, BENCH, NextDay(DayKind.PROMISED, PROMISED.date(), PROMISED)),
        (State.AT_THE_BENCH, None, BENCH, NextDay(DayKind.WANTED, WANTED)),
        (State.READY, PROMISED, BENCH, NextDay(DayKind.COLLECTS, PROMISED.date(), PROMISED)),
        (State.HANDED_OVER, PROMISED, BENCH, NextDay(DayKind.SINCE, NOW.date())),
        (State.CALLED_OFF, PROMISED, BENCH, NextDay(DayKind.SINCE, NOW.date())),
    ],
)
def test_a_line_names_the_next_day(
    session: Session, state: State, promised_at: datetime | None, bench_on: date | None, day: NextDay
) -> None:
    an_order(session, state=state, promised_at=promised_at, bench_on=bench_on)
    (line,) = orders_page(session, now=NOW).items
    assert line.next_day == day


def test_a_line_names_every_ring(session: Session) -> None:
    an_order(session, rings=[a_ring(), a_ring(a_finger("7¼", System.US))])
    (line,) = orders_page(session, now=NOW).items
    assert [(ring.position, ring.system, ring.label, ring.width_mm, ring.alloy) for ring in line.rings] == [
        (1, System.UK, "O½", 6.0, "gold-750-yellow"),
        (2, System.US, "7¼", 6.0, "gold-750-yellow"),
    ]


def test_a_known_customer_is_offered_by_name_or_phone(shelf: Session) -> None:
    for typed in ("mulle", "07 15"):
        assert [(line.name, line.orders, line.last_number) for line in find_customers(shelf, typed)] == [
            ("Jorun Müller", 1, "2026-1")
        ]
    assert find_customers(shelf, "  ") == []
    assert [line.name for line in find_customers(shelf, "m", limit=1)] == ["Anna 100% Moller"]


def test_a_customers_page_has_orders_and_fingers(session: Session) -> None:
    first = an_order(session)
    an_order(
        session,
        customer=first.customer.id,
        rings=[a_ring(a_finger("P"))],
        now=NOW + timedelta(days=1),
    )
    card = customer(session, first.customer.id)
    assert [line.number for line in card.orders] == ["2026-2", "2026-1"]
    assert [taken.finger.label for taken in card.fingers] == ["P", "O½"]
    assert card.fingers == fingers_of(session, first.customer.id)


def test_customers_are_listed_by_name_page_by_page(shelf: Session) -> None:
    first = customers_page(shelf, limit=3)
    second = customers_page(shelf, after=first.next, limit=3)
    assert [line.name for line in first.items + second.items] == [
        "Anna 100% Moller",
        "Jorun Müller",
        "Søren Ångström-Dahl",
        "Ελένη Βασιλάκη",
        "Юлия Беркутова",
    ]
    assert second.next is None
    with pytest.raises(CustomerUnknown):
        customers_page(shelf, after="nobody")


def test_a_changed_customer_is_found_anew_and_only_from_the_latest_version(engine: Engine) -> None:
    with engines.session(engine) as session:
        customer_id = add_customer(session, draft=CustomerDraft("Jorun Müller"), actor=PROGRAM, now=NOW)
        card = change_customer(
            session,
            customer_id=customer_id,
            version=1,
            draft=CustomerDraft("Jorun Dahl", "01632 960 716"),
            note_text=" No nickel. ",
            actor=PROGRAM,
            now=NOW,
        )
        assert (card.name, card.phone, card.note, card.version) == (
            "Jorun Dahl",
            "01632 960 716",
            "No nickel.",
            2,
        )
        assert [line.id for line in find_customers(session, "0716")] == [customer_id]
        assert find_customers(session, "muller") == []
        with pytest.raises(VersionStale):
            change_customer(
                session,
                customer_id=customer_id,
                version=1,
                draft=CustomerDraft("Somebody else"),
                actor=PROGRAM,
                now=NOW,
            )


def test_an_unknown_customer_is_told(session: Session) -> None:
    with pytest.raises(CustomerUnknown):
        customer(session, 4)
