"""What needs a hand today, rule by rule."""

from datetime import date, datetime, timedelta

import pytest
from sqlmodel import Session

from studio.book.in_hand import count, in_hand
from studio.book.order_list_values import HandWhy, HandWord
from studio.book.order_reads import orders_page
from studio.book.orders import OrderChanges, change_order
from studio.book.people import PROGRAM
from studio.craft.orders import State
from tests.builders import NOW, TODAY, an_order

DAY = timedelta(days=1)
FAR = NOW + 20 * DAY
NOT_READY = [State.DRAFT, State.QUOTED, State.AGREED, State.AT_THE_BENCH]
DONE = [State.HANDED_OVER, State.CALLED_OFF]


def whys(session: Session, now: datetime = NOW) -> list[HandWhy]:
    return [line.hand.why for line in in_hand(session, today=now.date(), now=now)]


@pytest.mark.parametrize("state", NOT_READY)
def test_a_bench_date_that_passed_wants_a_hand_until_the_ring_is_ready(
    session: Session, state: State
) -> None:
    an_order(session, state=state, promised_at=FAR, bench_on=TODAY - DAY)
    (line,) = in_hand(session, today=TODAY, now=NOW)
    assert (line.hand.word, line.hand.why, line.hand.on) == (
        HandWord.LATE,
        HandWhy.BENCH_DATE_PASSED,
        TODAY - DAY,
    )


@pytest.mark.parametrize("state", NOT_READY)
@pytest.mark.parametrize(
    ("promised_at", "why"),
    [
        (NOW - timedelta(minutes=1), HandWhy.PROMISE_PASSED),
        (NOW + timedelta(minutes=1), HandWhy.PROMISED_SOON),
        (NOW.replace(hour=23) + 2 * DAY, HandWhy.PROMISED_SOON),
        (NOW.replace(hour=0) + 3 * DAY, None),
    ],
    ids=["a minute ago", "in a minute", "late in two days", "early in three days"],
)
def test_a_promise_within_two_days_wants_a_hand(
    session: Session, state: State, promised_at: datetime, why: HandWhy | None
) -> None:
    an_order(session, state=state, promised_at=promised_at)
    assert whys(session) == ([] if why is None else [why])


def test_two_days_are_counted_in_the_studios_own_time(session: Session) -> None:
    promised_at = datetime(
        2027, 7, 3, 23, 30, tzinfo=NOW.tzinfo
    )  # half past midnight on the fourth in London
    then = promised_at - timedelta(days=2, hours=12)
    an_order(session, promised_at=promised_at, bench_on=date(2027, 7, 5), now=then)
    assert whys(session, then) == []
    assert whys(session, then + timedelta(hours=12)) == []
    in_london = date(2027, 7, 2)
    (line,) = in_hand(session, today=in_london, now=then + timedelta(hours=12))
    assert (line.hand.why, line.hand.on) == (HandWhy.PROMISED_SOON, date(2027, 7, 4))


def test_an_agreed_order_without_a_bench_date_wants_a_hand(session: Session) -> None:
    an_order(session, state=State.AGREED, bench_on=None)
    an_order(session, state=State.QUOTED, bench_on=None)
    assert whys(session) == [HandWhy.NO_BENCH_DATE]


def test_a_draft_untouched_for_two_days_wants_a_hand(session: Session) -> None:
    draft = an_order(session, bench_on=None)
    an_order(session, state=State.QUOTED, bench_on=None)
    later = NOW + 2 * DAY
    assert whys(session, later - timedelta(minutes=1)) == []
    assert whys(session, later) == [HandWhy.DRAFT_UNTOUCHED]
    change_order(
        session,
        number=draft.number,
        version=1,
        changes=OrderChanges(note="Rang."),
        actor=PROGRAM,
        now=later,
    )
    assert whys(session, later + DAY) == []


@pytest.mark.parametrize(
    ("promised_at", "is_named"),
    [(None, True), (NOW - timedelta(hours=1), True), (NOW + timedelta(hours=1), False)],
    ids=["nothing promised", "the promise is past", "still to come"],
)
def test_a_ready_ring_not_collected_wants_a_hand(
    session: Session, promised_at: datetime | None, *, is_named: bool
) -> None:
    an_order(session, state=State.READY, promised_at=promised_at)
    assert whys(session) == ([HandWhy.NOT_COLLECTED] if is_named else [])


@pytest.mark.parametrize("state", DONE)
def test_what_is_done_wants_no_hand(session: Session, state: State) -> None:
    an_order(session, state=state, promised_at=NOW - DAY, bench_on=TODAY - 9 * DAY)
    assert whys(session, NOW + 20 * DAY) == []


def test_the_most_pressing_comes_first_and_each_order_once(session: Session) -> None:
    an_order(session, state=State.READY)
    an_order(session, state=State.AGREED, bench_on=None)
    an_order(session, state=State.AGREED, bench_on=TODAY - 2 * DAY, promised_at=NOW - DAY)
    an_order(session, state=State.AT_THE_BENCH, bench_on=TODAY - DAY)
    an_order(session, state=State.AT_THE_BENCH, bench_on=TODAY - 3 * DAY)
    an_order(session, state=State.AGREED, promised_at=NOW + DAY)
    an_order(session, now=NOW - 3 * DAY)
    lines = in_hand(session, today=TODAY, now=NOW)
    assert [line.number[5:] for line in lines] == ["3", "5", "4", "6", "2", "7", "1"]
    assert count(session, today=TODAY, now=NOW) == 7


def test_the_list_of_orders_says_the_same(session: Session) -> None:
    an_order(session, state=State.AGREED, bench_on=None)
    an_order(session)
    an_order(session, state=State.READY)
    by_number = {line.number: line.hand for line in in_hand(session, today=TODAY, now=NOW)}
    assert {line.number: line.hand for line in orders_page(session, now=NOW).items} == {
        "2026-1": by_number["2026-1"],
        "2026-2": None,
        "2026-3": by_number["2026-3"],
    }
