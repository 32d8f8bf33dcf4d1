"""Until when a yes can be said, and what needs a hand before and after."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.errors import (
    QuoteExpired,
)
from studio.book.in_hand import in_hand
from studio.book.order_list_values import Hand, HandWhy, HandWord
from studio.book.orders import Order, order, orders_page
from studio.book.people import PROGRAM
from studio.book.quotes import QuoteTerms, agree, issue_quote, quotable
from studio.book.studio import change_studio, studio
from studio.craft.orders import State
from tests.builders import NOW, an_order
from tests.quoting import a_quote, a_yes, paid, put_figures

LATER = NOW + timedelta(hours=3)
MINUTE = timedelta(minutes=1)


def said_yes(session: Session, number: str, **facts: Any) -> Order:
    given: dict[str, Any] = {"name": "Jorun Müller", "actor": PROGRAM, "now": LATER}
    return agree(session, quote=number, **(given | facts))


EXPIRY = [
    ("Europe/London", date(2026, 11, 25), datetime(2026, 11, 26, 0, 0, tzinfo=UTC)),
    ("Europe/London", date(2026, 12, 31), datetime(2027, 1, 1, 0, 0, tzinfo=UTC)),
    ("Europe/Berlin", date(2026, 12, 31), datetime(2026, 12, 31, 23, 0, tzinfo=UTC)),
    ("Pacific/Auckland", date(2026, 12, 31), datetime(2026, 12, 31, 11, 0, tzinfo=UTC)),
    ("Europe/London", date(2027, 3, 28), datetime(2027, 3, 28, 23, 0, tzinfo=UTC)),
    ("Europe/London", date(2027, 3, 27), datetime(2027, 3, 28, 0, 0, tzinfo=UTC)),
    ("Europe/London", date(2027, 10, 31), datetime(2027, 11, 1, 0, 0, tzinfo=UTC)),
    ("Europe/London", date(2027, 10, 30), datetime(2027, 10, 30, 23, 0, tzinfo=UTC)),
    # the clocks of Chile go forward at midnight: the day has no 00:00 and begins at 01:00, 04:00 UTC
    ("America/Santiago", date(2027, 9, 4), datetime(2027, 9, 5, 4, 0, tzinfo=UTC)),
    ("Europe/London", date(2028, 2, 29), datetime(2028, 3, 1, 0, 0, tzinfo=UTC)),
]


@pytest.mark.parametrize(
    ("zone", "valid_until", "ends"), EXPIRY, ids=[f"{zone} {day}" for zone, day, _ in EXPIRY]
)
def test_a_quote_is_good_to_the_end_of_its_last_day_in_the_studios_zone(
    session: Session, zone: str, valid_until: date, ends: datetime
) -> None:
    change_studio(session, facts=replace(studio(session), time_zone=zone), actor=PROGRAM, now=NOW)
    issued_at = ends - timedelta(days=3)
    put_figures(session, on=issued_at.date() - timedelta(days=2), now=issued_at - timedelta(days=2))
    stands = an_order(session, wanted_on=date(2029, 1, 1), now=issued_at)
    draft = quotable(session, stands.number, now=issued_at)
    days = (valid_until - draft.issued_on).days
    draft = quotable(session, stands.number, terms=QuoteTerms(valid_days=days), now=issued_at)
    asked = issue_quote(session, draft=draft, pdf=None, actor=PROGRAM, now=issued_at)
    assert (asked.valid_until, asked.expires_at) == (valid_until, ends)
    assert not asked.has_expired(ends - MINUTE)
    assert asked.has_expired(ends)
    with pytest.raises(QuoteExpired) as told:
        said_yes(session, asked.number, now=ends)
    assert told.value.valid_until == valid_until
    in_time = said_yes(session, asked.number, now=ends - timedelta(microseconds=1))
    assert in_time.state is State.AGREED


def test_a_reason_lets_a_quote_through_that_has_run_out_and_is_kept(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session)
    late = asked.expires_at + timedelta(days=30)
    with pytest.raises(QuoteExpired):
        said_yes(session, asked.number, reason="  ", now=late)
    done = said_yes(session, asked.number, reason="We hold the price for her.", now=late)
    assert done.agreement is not None
    assert done.agreement.reason == done.history[-1].reason == "We hold the price for her."


def hands(session: Session, now: datetime) -> list[Hand]:
    return [line.hand for line in in_hand(session, today=now.date(), now=now)]


def test_a_quote_without_an_answer_wants_a_hand_from_the_day_before_it_ends(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session, an_order(session, bench_on=None), valid_days=10)
    last = datetime(2026, 12, 5, 12, 0, tzinfo=UTC)
    ending = Hand(HandWord.ENDING, HandWhy.QUOTE_ENDS, NOW, asked.valid_until)
    assert hands(session, last - timedelta(days=2)) == []
    assert hands(session, last - timedelta(days=1)) == [ending]
    assert hands(session, last) == [ending]
    assert orders_page(session, now=last).items[0].hand == ending
    assert hands(session, last + timedelta(days=1)) == [
        Hand(HandWord.WAITING, HandWhy.QUOTE_ENDED, NOW, asked.valid_until)
    ]


def test_a_quote_that_is_answered_or_superseded_wants_no_hand(session: Session) -> None:
    put_figures(session)
    a_yes(session, a_quote(session, an_order(session, bench_on=date(2027, 1, 5)), valid_days=1))
    waits = a_quote(session, an_order(session, bench_on=None), valid_days=1)
    a_quote(session, order(session, waits.order_number), valid_days=30)
    assert hands(session, NOW + timedelta(days=3)) == []


def test_an_open_deposit_wants_a_hand(session: Session) -> None:
    put_figures(session)
    waits = a_yes(session, a_quote(session, an_order(session, bench_on=date(2027, 1, 5))), deposit_minor=None)
    assert hands(session, NOW) == [Hand(HandWord.MISSING, HandWhy.DEPOSIT_OPEN, NOW)]
    assert waits.agreement is not None
    asked = waits.agreement.deposit_asked_minor
    paid(session, waits.number, asked - 1)
    assert hands(session, NOW) == [Hand(HandWord.MISSING, HandWhy.DEPOSIT_OPEN, NOW)]
    paid(session, waits.number, 1)
    assert hands(session, NOW) == []
