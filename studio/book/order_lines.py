"""Lines of a list of orders: read by columns, never by whole rows, with their rings beside them."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, Row, SQLColumnExpression, bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio import clock
from studio.book.customer_tables import CustomerRow, FingerRow
from studio.book.hand import OrderDays, hand_of
from studio.book.order_list_values import DayKind, NextDay, OrderLine, RingLine
from studio.book.order_tables import OrderRow, RingRow
from studio.book.quote_columns import has_open_deposit, open_until, said_no_at
from studio.book.studio import time_zone
from studio.craft.designs import Pattern, Profile, System
from studio.craft.orders import State
from studio.craft.units import from_micrometres

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
    said_no_at(),
)


# Put together once: that takes longer than running it.
_NEWEST_FIRST = (
    pick(*_LISTED)
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
    .order_by(col(OrderRow.year).desc(), col(OrderRow.serial).desc())
)
_RINGS = (
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
    .where(col(RingRow.order_id).in_(bindparam("order_ids", expanding=True)))
    .order_by(col(RingRow.order_id), col(RingRow.position))
)


def order_lines(
    session: Session, wanted: Iterable[ColumnElement[bool]], limit: int, now: datetime
) -> list[OrderLine]:
    """The orders for which all of `wanted` holds, the newest number first, at most `limit` of them."""
    found = session.connection().execute(_NEWEST_FIRST.where(*wanted).limit(limit)).all()
    rings = ring_lines(session, [row.id for row in found])
    zone = time_zone(session)
    return [_line(row, rings.get(row.id, ()), zone, now) for row in found]


def ring_lines(session: Session, order_ids: Sequence[int]) -> dict[int, tuple[RingLine, ...]]:
    """The rings of several orders as a list names them, by the order's id."""
    found = session.connection().execute(_RINGS, {"order_ids": list(order_ids)})
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
        row.said_no_at,
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
