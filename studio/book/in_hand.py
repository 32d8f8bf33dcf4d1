"""What needs a hand today."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.customer_tables import CustomerRow
from studio.book.hand import NOT_READY, OrderDays, hand_of
from studio.book.order_list_values import Hand, HandWhy
from studio.book.order_tables import OrderRow
from studio.book.quote_reads import has_open_deposit, open_until, said_no_at
from studio.book.studio import time_zone
from studio.craft.orders import State

# Every page counts what needs a hand: the question is put together once.
_OPEN = (
    pick(
        col(OrderRow.number),
        col(OrderRow.customer_id),
        col(CustomerRow.name),
        col(OrderRow.state),
        col(OrderRow.state_since),
        col(OrderRow.changed_at),
        col(OrderRow.promised_at),
        col(OrderRow.bench_on),
        open_until(),
        has_open_deposit(),
        said_no_at(),
    )
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
    .where(col(OrderRow.state).in_(sorted([*NOT_READY, State.READY])))
    .order_by(col(OrderRow.year), col(OrderRow.serial))
)
_ORDER = {why: place for place, why in enumerate(HandWhy)}


@dataclass(frozen=True, slots=True)
class HandLine:
    """One order that needs a hand: the facts of its sentence, by the most pressing rule."""

    number: str
    customer_id: int
    customer_name: str
    state: State
    hand: Hand
    promised_at: datetime | None
    bench_on: date | None


def in_hand(session: Session, *, today: date, now: datetime) -> list[HandLine]:
    """The orders that need a hand, one line each: the most pressing rule first, then the longest waiting."""
    found = session.connection().execute(_OPEN)
    zone = time_zone(session)
    lines = []
    for number, customer_id, name, word, *told in found:
        state = State(word)
        state_since, changed_at, promised_at, bench_on, *more = told
        days = OrderDays(state, state_since, changed_at, promised_at, bench_on, zone, *more)
        hand = hand_of(days, today=today, now=now)
        if hand is not None:
            lines.append(HandLine(number, customer_id, name, state, hand, promised_at, bench_on))
    return sorted(lines, key=lambda line: (_ORDER[line.hand.why], line.hand.on or date.max, line.hand.since))


def count(session: Session, *, today: date, now: datetime) -> int:
    """How many orders need a hand: the number of lines of `in_hand`."""
    return len(in_hand(session, today=today, now=now))
