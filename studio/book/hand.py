"""When an order needs a hand, as one rule per line."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from studio.book.order_list_values import Hand, HandWhy, HandWord
from studio.clock import day_of
from studio.craft.orders import State

NOT_READY = frozenset({State.DRAFT, State.QUOTED, State.AGREED, State.AT_THE_BENCH})
NEAR = timedelta(days=2)
UNTOUCHED = timedelta(days=2)
TOMORROW = timedelta(days=1)
ASKED_FOR = timedelta(weeks=8)
"""How long somebody is reminded to ask after the fit; later nobody needs to."""


@dataclass(frozen=True, slots=True)
class OrderDays:
    """What the rules look at. Moments are UTC, `zone` is the studio's.

    `quote_until` is the last day of the quote that waits for its answer, `said_no_at` when the customer said
    by their link that it is not right. `is_fit_due` where it is time to ask after the fit of what was handed
    over, and nobody did (`fit_window`); a list of orders does not ask for it.
    """

    state: State
    state_since: datetime
    changed_at: datetime
    promised_at: datetime | None
    bench_on: date | None
    zone: str
    quote_until: date | None = None
    is_deposit_open: bool = False
    said_no_at: datetime | None = None
    is_fit_due: bool = False

    @property
    def promised_on(self) -> date | None:
        """The promised day in the studio's time zone."""
        return None if self.promised_at is None else day_of(self.promised_at, self.zone)


def hand_of(days: OrderDays, *, today: date, now: datetime) -> Hand | None:
    """Why an order needs a hand, by the most pressing rule, or None.

    Not ready although the promised moment is past, or the bench date, or the promised day is at most two
    days off; a quote that the customer said no to;
    one without an answer that ends today or tomorrow; agreed without a bench date, or with the
    deposit open; a quote that ended without an answer; a draft nobody touched for two days; ready and not
    collected: the promised moment is past, or nothing was promised, so somebody must say that the ring is
    there; an amendment that the customer said no to; last a ring worn for weeks of whose fit nobody asked.
    """
    found = None
    if days.state in NOT_READY:
        found = _not_ready(days, today, now)
    elif days.state is State.READY and (days.promised_at is None or days.promised_at <= now):
        found = Hand(HandWord.COLLECT, HandWhy.NOT_COLLECTED, days.state_since, days.promised_on)
    if days.is_fit_due:
        return Hand(HandWord.ASK, HandWhy.FIT_NOT_ASKED, days.state_since)
    if found is None and days.said_no_at is not None:
        return Hand(HandWord.WAITING, HandWhy.SAID_NO, days.said_no_at)
    return found


def fit_window(now: datetime, weeks: int) -> tuple[datetime, datetime]:
    """When an order was handed over of whose fit somebody is to ask now: from and until; never for 0 weeks.

    After 3 weeks: handed over 3 to 11 weeks ago.
    """
    until = now - timedelta(weeks=weeks)
    return (until - ASKED_FOR if weeks else until), until


def _not_ready(days: OrderDays, today: date, now: datetime) -> Hand | None:
    promised_at, promised_on = days.promised_at, days.promised_on
    if promised_at is not None and promised_at <= now:
        return Hand(HandWord.LATE, HandWhy.PROMISE_PASSED, promised_at, promised_on)
    if days.bench_on is not None and days.bench_on < today:
        return Hand(HandWord.LATE, HandWhy.BENCH_DATE_PASSED, days.state_since, days.bench_on)
    if promised_on is not None and promised_on - today <= NEAR:
        return Hand(HandWord.SOON, HandWhy.PROMISED_SOON, days.state_since, promised_on)
    if days.state is State.QUOTED and days.said_no_at is not None:
        return Hand(HandWord.WAITING, HandWhy.SAID_NO, days.said_no_at)
    return _unsettled(days, today, now)


def _unsettled(days: OrderDays, today: date, now: datetime) -> Hand | None:
    """What nobody has said yet, of an order whose days are not pressing."""
    until = days.quote_until if days.state is State.QUOTED else None
    if until is not None and today <= until <= today + TOMORROW:
        return Hand(HandWord.ENDING, HandWhy.QUOTE_ENDS, days.state_since, until)
    if days.state is State.AGREED and days.bench_on is None:
        return Hand(HandWord.MISSING, HandWhy.NO_BENCH_DATE, days.state_since)
    if days.state is State.AGREED and days.is_deposit_open:
        return Hand(HandWord.MISSING, HandWhy.DEPOSIT_OPEN, days.state_since)
    if until is not None and until < today:
        return Hand(HandWord.WAITING, HandWhy.QUOTE_ENDED, days.state_since, until)
    if days.state is State.DRAFT and now - days.changed_at >= UNTOUCHED:
        return Hand(HandWord.WAITING, HandWhy.DRAFT_UNTOUCHED, days.changed_at)
    return None
