"""The demo's book: enough of everything, the same every time, on any day of the year."""

from collections import Counter
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.demo import write_demo
from studio.book.engine import open_book
from studio.book.in_hand import in_hand
from studio.book.order_list_values import HandWhy
from studio.book.order_reads import order, orders_page, state_counts
from studio.book.order_values import Order
from studio.book.schema import bring_up_to_date, faults
from studio.book.studio import studio
from studio.book.week import week_need
from studio.clock import monday_of
from studio.craft.designs import Hand, Pattern, Profile
from studio.craft.orders import State

DAYS = [datetime(2026, 11, day, 9, 0, tzinfo=UTC) for day in (23, 25, 27, 28, 29)]
DAYS += [datetime(2027, 1, 1, 0, 5, tzinfo=UTC), datetime(2028, 2, 29, 23, 50, tzinfo=UTC)]


@pytest.fixture
def empty(empty_url: str) -> Iterator[Engine]:
    """A book without a table."""
    engine = open_book(empty_url)
    yield engine
    engine.dispose()


@pytest.fixture
def empty_file(tmp_path: Path) -> Iterator[Engine]:
    """A file without a table: what a demo holds is the same in every database."""
    engine = open_book(f"sqlite:///{tmp_path / 'book.db'}")
    yield engine
    engine.dispose()


def demo_book(engine: Engine, now: datetime) -> Engine:
    bring_up_to_date(engine, now=now)
    with engines.session(engine) as session:
        write_demo(session, now=now)
    return engine


def all_orders(session: Session, now: datetime) -> list[Order]:
    lines = orders_page(session, limit=200, now=now).items
    return [order(session, line.number) for line in lines]


@pytest.mark.parametrize("now", DAYS, ids=lambda now: f"{now:%a %d %b %Y}")
def test_every_day_has_a_demo_with_work_for_six_weeks(empty_file: Engine, now: datetime) -> None:
    engine = demo_book(empty_file, now)
    today = now.date()
    with engines.session(engine) as session:
        assert all(number > 0 for number in state_counts(session).values())
        for ahead in range(6):
            week = week_need(session, monday=monday_of(today) + timedelta(weeks=ahead), today=today)
            assert sum(line.blanks for line in week.need) >= 3
        whys = Counter(line.hand.why for line in in_hand(session, today=today, now=now))
        assert set(whys) == set(HandWhy)
        assert sum(whys.values()) <= 14
        for one in all_orders(session, now):
            moments = [line.at for line in one.history]
            assert moments == sorted(moments)
            assert moments[-1] <= now


def test_a_demo_shows_all_there_is(empty: Engine) -> None:
    now = DAYS[0]
    engine = demo_book(empty, now)
    with engines.session(engine) as session:
        orders = all_orders(session, now)
        rings = [ring for one in orders for ring in one.rings]
        assert len(orders) >= 60
        assert len({ring.design.alloy for ring in rings}) >= 8
        assert {ring.design.profile for ring in rings} == set(Profile)
        assert {ring.design.pattern for ring in rings} == set(Pattern)
        assert len({ring.finger.system for ring in rings}) >= 5
        pairs = [one for one in orders if len(one.rings) == 2]
        assert len(pairs) >= 8
        assert all({ring.finger.hand for ring in one.rings} == set(Hand) for one in pairs)
        span = [one.terms.bench_on for one in orders if one.terms.bench_on]
        assert (max(span) - min(span)).days >= 8 * 7 - 7
        numbers = sorted(int(one.number.split("-")[1]) for one in orders)
        assert numbers == list(range(1, len(orders) + 1))
        last_four = Counter((one.customer.id, (one.customer.phone or "")[-4:]) for one in orders)
        assert len({four for _, four in last_four}) == len({who for who, _ in last_four})
        assert any(one.state is State.AGREED and one.missing.bench[1:] for one in orders) is False
        assert any("reason for narrow gauge on ring 1" in one.missing.bench for one in orders)
        assert studio(session).name == "Wrenfold"
        assert "Jorun Müller" in {
            line.customer_name for line in orders_page(session, query="muller", now=now).items
        }
    assert faults(engine) == []


def test_the_same_day_gives_the_same_book(empty: Engine) -> None:
    books = []
    for engine in (demo_book(empty, DAYS[3]), demo_book(open_book("sqlite://"), DAYS[3])):
        with engines.session(engine) as session:
            books.append(all_orders(session, DAYS[3]))
        engine.dispose()
    assert books[0] == books[1]
