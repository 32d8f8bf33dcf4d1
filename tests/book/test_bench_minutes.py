"""The minutes a step is planned by: the studio's own, once rings enough that are made say so."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.bench_minutes import minutes_learned
from studio.book.bench_work import Deed, do_at_bench
from studio.book.live_price import price_of
from studio.book.orders import order
from studio.book.people import PROGRAM
from studio.book.routes import ring_route
from studio.craft.bench_work import What
from studio.craft.minutes import LEAST_RINGS, minutes_row
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, TODAY, an_order, one_step
from tests.quoting import RATES, put_figures

Makes = Callable[[int], None]


@pytest.fixture(autouse=True)
def figures(session: Session) -> None:
    put_figures(session)


@pytest.fixture
def makes(session: Session, people: dict[Role, Actor]) -> Makes:
    """Make a ring whose seam takes so many minutes to solder."""

    def make(minutes: int) -> None:
        made = an_order(session, state=State.AT_THE_BENCH)
        deed = Deed(What.DONE, "solder", minutes=minutes, reason="first of all")
        do_at_bench(session, number=made.number, position=1, deed=deed, actor=people[Role.MAKER], now=NOW)
        one_step(session, order(session, made.number), State.READY, now=NOW)

    return make


def planned(session: Session) -> float | None:
    """The minutes that soldering is planned with on a ring that is being made."""
    stands = an_order(session, state=State.AT_THE_BENCH)
    deed = Deed(What.STARTED, "weigh")
    do_at_bench(session, number=stands.number, position=1, deed=deed, actor=PROGRAM, now=NOW)
    return next(one for one in ring_route(session, stands, stands.rings[0]) if one.key == "solder").minutes


def test_a_step_is_planned_as_the_studio_said_until_rings_enough_are_made(
    session: Session, makes: Makes
) -> None:
    for minutes in (90, 91)[: LEAST_RINGS - 1]:
        makes(minutes)
    assert planned(session) == RATES.minutes["solder"]


def test_then_it_is_planned_by_the_median_which_one_bad_day_does_not_move(
    session: Session, makes: Makes
) -> None:
    for minutes in (12, 400, 15):
        makes(minutes)
    assert planned(session) == 15


def test_the_next_price_counts_them_once_a_ring_is_made_and_an_earlier_quote_stays(
    session: Session, makes: Makes
) -> None:
    stands = an_order(session, state=State.QUOTED)
    ring = stands.rings[0].reckoning
    before = price_of(session, [ring], day=TODAY)
    for minutes in (92, 400, 95):
        makes(minutes)
    after = price_of(session, [ring], day=TODAY)
    (was,), (now,) = before.planned, after.planned
    assert now.minutes - was.minutes == 95 - RATES.minutes["solder"]
    assert {step.row: step.rings for step in now.steps if step.rings} == {"solder": LEAST_RINGS}
    assert before.breakdown is not None
    assert after.breakdown is not None
    assert after.breakdown.total_minor > before.breakdown.total_minor
    assert order(session, stands.number).quotes == stands.quotes


def test_a_ring_that_is_still_at_the_bench_does_not_count(
    session: Session, people: dict[Role, Actor]
) -> None:
    for minutes in (12, 14, 15):
        stands = an_order(session, state=State.AT_THE_BENCH)
        deed = Deed(What.DONE, "solder", minutes=minutes, reason="first of all")
        do_at_bench(session, number=stands.number, position=1, deed=deed, actor=people[Role.MAKER], now=NOW)
    assert minutes_learned(session) == {}


def test_a_tick_that_was_taken_back_does_not_count(
    session: Session, makes: Makes, people: dict[Role, Actor]
) -> None:
    makes(12)
    makes(14)
    stands = an_order(session, state=State.AT_THE_BENCH)
    for deed in (Deed(What.DONE, "solder", minutes=15, reason="first of all"), Deed(What.UNDONE)):
        do_at_bench(session, number=stands.number, position=1, deed=deed, actor=people[Role.MAKER], now=NOW)
    one_step(session, order(session, stands.number), State.READY, now=NOW + timedelta(hours=1))
    assert minutes_learned(session) == {}


@pytest.mark.parametrize(
    ("key", "row"),
    [("saw", "saw"), ("pattern", "pattern:hammered"), ("profile", "profile:court"), ("form-2", "form"),
     ("anneal-form-3", "anneal-form"), ("own-1", "own-1"), ("seam-pattern", "seam-pattern:hammered")],
)  # fmt: skip
def test_minutes_go_to_the_row_they_are_planned_by(key: str, row: str) -> None:
    assert minutes_row(key, "court", "hammered") == row
