"""Reading orders: the list by columns, one order whole."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, Row, SQLColumnExpression, func, tuple_
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio import clock
from studio.book.audit import history
from studio.book.customer_tables import CustomerRow, FingerRow
from studio.book.errors import OrderUnknown
from studio.book.finding import found_by
from studio.book.hand import OrderDays, hand_of
from studio.book.order_numbers import read_number
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_values import (
    DayKind,
    NextDay,
    Order,
    OrderCustomer,
    OrderLine,
    OrderRing,
    OrderTerms,
    Page,
    RingLine,
)
from studio.book.quote_reads import agreement_of, deposit_of, has_open_deposit, open_until, quotes_of
from studio.book.stored import design_of, finger_of
from studio.book.studio import time_zone
from studio.craft.designs import Pattern, Profile, System
from studio.craft.missing import OrderFacts, missing, ring_facts
from studio.craft.orders import State
from studio.craft.reckonings import reckon
from studio.craft.units import from_micrometres

MOST = 200
_LISTED: tuple[SQLColumnExpression[Any], ...] = (
    col(OrderRow.id),
    col(OrderRow.number),
    col(OrderRow.customer_id),
    col(CustomerRow.name).label("customer_name"),
    col(OrderRow.state),
    col(OrderRow.state_since),
    col(OrderRow.changed_at),
    col(OrderRow.wanted_on),
    col(OrderRow.promised_at),
    col(OrderRow.bench_on),
    open_until(),
    has_open_deposit(),
)


def order(session: Session, number: str) -> Order:
    """The order of this number, whole. Raises `OrderUnknown`."""
    row = session.exec(select(OrderRow).where(col(OrderRow.number) == number)).one_or_none()
    if row is None:
        raise OrderUnknown(number)
    customer = session.get_one(CustomerRow, row.customer_id)
    rings = rings_of(session, row.id)
    terms = OrderTerms(row.wanted_on, row.is_wanted_hard, row.promised_at, row.bench_on, row.note)
    state = State(row.state)
    quotes = quotes_of(session, row.number)
    agreement = agreement_of(session, row.id, quotes)
    return Order(
        number=row.number,
        state=state,
        version=row.version,
        customer=OrderCustomer(
            customer.id, customer.name, customer.phone, customer.email, customer.note, customer.version
        ),
        terms=terms,
        rings=rings,
        agreed_name=row.agreed_name,
        agreed_at=row.agreed_at,
        state_since=row.state_since,
        created_at=row.created_at,
        history=history(session, row.id),
        missing=missing(
            OrderFacts(
                state=state,
                has_phone=bool(customer.phone),
                has_wanted_day=terms.wanted_on is not None,
                has_promised_day=terms.promised_at is not None,
                has_bench_date=terms.bench_on is not None,
                deposit=deposit_of(session, state, quotes, agreement),
                rings=tuple(
                    ring_facts(ring.position, ring.finger, ring.reckoning, ring.reasons_given)
                    for ring in rings
                ),
            )
        ),
        quotes=quotes,
        agreement=agreement,
    )


def rings_of(session: Session, order_id: int) -> tuple[OrderRing, ...]:
    """The rings of one order in their places, each reckoned."""
    found = session.exec(
        select(RingRow, FingerRow)
        .join(FingerRow, col(FingerRow.id) == col(RingRow.finger_id))
        .where(col(RingRow.order_id) == order_id)
        .order_by(col(RingRow.position))
    ).all()
    return tuple(
        OrderRing(
            ring.position,
            finger := finger_of(row),
            design := design_of(ring),
            row.taken_by,
            row.taken_at,
            ring.reasons,
            reckon(finger, design),
        )
        for ring, row in found
    )


def orders_page(
    session: Session,
    *,
    state: State | None = None,
    query: str | None = None,
    by_phone: bool = True,
    after: str | None = None,
    limit: int = 50,
    now: datetime | None = None,
) -> Page[OrderLine]:
    """One page of orders, the newest number first, of at most `limit` (1 to 200) lines.

    `query` finds by name ('muller' finds Müller), by number ('2026-118' or '118'), or by the last four or
    more digits of a telephone number however spaced, this only with `by_phone`. `after` is the `next` of the
    page before. `now` is the moment by which it is said what needs a hand; left out, this one. Raises
    `OrderUnknown` for an `after` that is no number.
    """
    wanted = [
        *found_by(query, by_phone=by_phone),
        *(() if state is None else (col(OrderRow.state) == state,)),
    ]
    if after is not None:
        start = read_number(after)
        if start is None:
            raise OrderUnknown(after)
        wanted.append(tuple_(col(OrderRow.year), col(OrderRow.serial)) < tuple_(start.year, start.serial))
    size = max(1, min(limit, MOST))
    lines = _lines(session, wanted, size + 1, now or clock.now())
    return Page(lines[:size], lines[size - 1].number if len(lines) > size else None)


def orders_of_customer(session: Session, customer_id: int, now: datetime | None = None) -> list[OrderLine]:
    """The orders of one customer, the newest first, at most 200."""
    return _lines(session, [col(OrderRow.customer_id) == customer_id], MOST, now or clock.now())


def state_counts(session: Session, query: str | None = None, *, by_phone: bool = True) -> dict[State, int]:
    """How many orders are in each state, of those that `query` finds as in `orders_page`; 0 without any."""
    found = session.connection().execute(
        pick(col(OrderRow.state), func.count())
        .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
        .where(*found_by(query, by_phone=by_phone))
        .group_by(col(OrderRow.state))
        if query and query.strip()
        else pick(col(OrderRow.state), func.count()).group_by(col(OrderRow.state))
    )
    counted = {State(state): number for state, number in found}
    return {state: counted.get(state, 0) for state in State}


def ring_lines(session: Session, order_ids: Sequence[int]) -> dict[int, tuple[RingLine, ...]]:
    """The rings of several orders as a list names them, by the order's id."""
    found = session.connection().execute(
        pick(
            col(RingRow.order_id),
            col(RingRow.position),
            col(FingerRow.system),
            col(FingerRow.label),
            col(RingRow.profile),
            col(RingRow.width_um),
            col(RingRow.thickness_um),
            col(RingRow.pattern),
            col(RingRow.alloy),
        )
        .join(FingerRow, col(FingerRow.id) == col(RingRow.finger_id))
        .where(col(RingRow.order_id).in_(order_ids))
        .order_by(col(RingRow.order_id), col(RingRow.position))
    )
    lines: defaultdict[int, list[RingLine]] = defaultdict(list)
    for order_id, position, system, label, profile, width_um, thickness_um, pattern, alloy in found:
        lines[order_id].append(
            RingLine(
                position,
                System(system),
                label,
                Profile(profile),
                from_micrometres(width_um),
                from_micrometres(thickness_um),
                Pattern(pattern),
                alloy,
            )
        )
    return {order_id: tuple(rings) for order_id, rings in lines.items()}


def next_day(state: State, days: OrderDays, wanted_on: date | None) -> NextDay | None:
    """The day an order waits for: wanted, bench, promised or collects; of a finished one, since when."""
    if state in {State.HANDED_OVER, State.CALLED_OFF}:
        return NextDay(DayKind.SINCE, clock.day_of(days.state_since, days.zone))
    promised = None
    if days.promised_at is not None and days.promised_on is not None:
        kind = DayKind.COLLECTS if state is State.READY else DayKind.PROMISED
        promised = NextDay(kind, days.promised_on, days.promised_at)
    wanted = None if wanted_on is None else NextDay(DayKind.WANTED, wanted_on)
    bench = None if days.bench_on is None else NextDay(DayKind.BENCH, days.bench_on)
    if state is State.AGREED:
        return bench or promised or wanted
    return promised or wanted or (bench if state is not State.READY else None)


def _lines(
    session: Session, wanted: Iterable[ColumnElement[bool]], limit: int, now: datetime
) -> list[OrderLine]:
    found = (
        session.connection()
        .execute(
            pick(*_LISTED)
            .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
            .where(*wanted)
            .order_by(col(OrderRow.year).desc(), col(OrderRow.serial).desc())
            .limit(limit)
        )
        .all()
    )
    rings = ring_lines(session, [row.id for row in found])
    zone = time_zone(session)
    return [_line(row, rings.get(row.id, ()), zone, now) for row in found]


def _line(row: Row[Any], rings: tuple[RingLine, ...], zone: str, now: datetime) -> OrderLine:
    state = State(row.state)
    days = OrderDays(
        state,
        row.state_since,
        row.changed_at,
        row.promised_at,
        row.bench_on,
        zone,
        row.quote_until,
        row.is_deposit_open,
    )
    return OrderLine(
        row.number,
        row.customer_id,
        row.customer_name,
        state,
        row.state_since,
        next_day(state, days, row.wanted_on),
        hand_of(days, today=clock.day_of(now, zone), now=now),
        rings,
    )
