"""What metal a week's rings need."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from typing import Any

from sqlalchemy import ColumnElement, Row, Select
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio import clock
from studio.book.customer_tables import CustomerRow
from studio.book.order_tables import OrderRow, RingRow
from studio.book.studio import time_zone
from studio.craft.designs import Profile, Stock
from studio.craft.orders import COUNTED_FOR_THE_WEEK, State
from studio.craft.units import from_micrometres, from_milligrams


@dataclass(frozen=True, slots=True)
class NeedRing:
    """One ring behind a line: its order, its place in it, its mark in mm and the metal to issue in g."""

    number: str
    customer_name: str
    position: int
    bench_on: date
    mark_mm: float
    issue_g: float
    customer_id: int


@dataclass(frozen=True, slots=True)
class NeedLine:
    """One kind of stock the week needs. `length_mm` is the sum of the marks, `mass_g` that of the issues."""

    alloy: str
    profile: Profile
    stock: Stock
    thickness_mm: float
    width_mm: float
    blanks: int
    length_mm: float
    mass_g: float
    rings: tuple[NeedRing, ...]


@dataclass(frozen=True, slots=True)
class WeekOrder:
    """An order named above the table."""

    number: str
    customer_name: str
    state: State
    bench_on: date | None


@dataclass(frozen=True, slots=True)
class Week:
    """A week from its Monday to its Sunday.

    `late` are orders whose bench date passed before the week and which are not ready; `unplanned` are agreed
    without a bench date. Neither is in the need, and both want a look before metal is bought.
    """

    from_: date
    to: date
    need: tuple[NeedLine, ...]
    late: tuple[WeekOrder, ...]
    unplanned: tuple[WeekOrder, ...]


def week_need(
    session: Session,
    *,
    monday: date,
    today: date | None = None,
    until: date | None = None,
    states: frozenset[State] = COUNTED_FOR_THE_WEEK,
) -> Week:
    """The need of the week that starts on `monday`: rings of orders agreed or at the bench, by bench date.

    Any other day counts from its Monday; `until` ends the window on another day than its Sunday, `states`
    counts other orders. A ring whose blank is booked as cut needs none any more. Marks and issues are summed
    as stored, in whole micrometres and milligrams, so a line is exactly the sum of its rings. `today`, left
    out, is the studio's: an order whose bench day is still to come is not late, however far ahead the week is
    that is looked at.
    """
    start = clock.monday_of(monday)
    end = start + timedelta(days=6)
    if until is not None:
        end = max(start, until)
    passed = min(start, today or clock.today(time_zone(session)))
    wanted: Select[*tuple[Any, ...]] = (
        pick(
            col(RingRow.alloy),
            col(RingRow.profile),
            col(RingRow.stock),
            col(RingRow.thickness_um),
            col(RingRow.width_um),
            col(OrderRow.number),
            col(CustomerRow.name).label("customer_name"),
            col(RingRow.position),
            col(OrderRow.bench_on),
            col(RingRow.mark_um),
            col(RingRow.issue_mg),
            col(OrderRow.customer_id),
        )
        .join(OrderRow, col(OrderRow.id) == col(RingRow.order_id))
        .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
        .where(
            col(OrderRow.bench_on).between(start, end),
            col(OrderRow.state).in_(states),
            col(RingRow.cut_id).is_(None),
        )
        .order_by(
            col(RingRow.alloy),
            col(RingRow.stock),
            col(RingRow.profile),
            col(RingRow.thickness_um),
            col(RingRow.width_um).desc(),
            col(OrderRow.bench_on),
            col(OrderRow.year),
            col(OrderRow.serial),
            col(RingRow.position),
        )
    )
    kinds = groupby(
        session.connection().execute(wanted),
        key=lambda row: (row.alloy, row.profile, row.stock, row.thickness_um, row.width_um),
    )
    return Week(
        start,
        end,
        tuple(_line(list(rings)) for _, rings in kinds),
        _named(session, col(OrderRow.bench_on) < passed),
        _named(session, col(OrderRow.bench_on).is_(None)),
    )


def _counts() -> ColumnElement[bool]:
    return col(OrderRow.state).in_(COUNTED_FOR_THE_WEEK)


def _line(rows: list[Row[*tuple[Any, ...]]]) -> NeedLine:
    kind = rows[0]
    return NeedLine(
        kind.alloy,
        Profile(kind.profile),
        Stock(kind.stock),
        from_micrometres(kind.thickness_um),
        from_micrometres(kind.width_um),
        len(rows),
        from_micrometres(sum(row.mark_um for row in rows)),
        from_milligrams(sum(row.issue_mg for row in rows)),
        tuple(
            NeedRing(
                row.number,
                row.customer_name,
                row.position,
                row.bench_on,
                from_micrometres(row.mark_um),
                from_milligrams(row.issue_mg),
                row.customer_id,
            )
            for row in rows
        ),
    )


def _named(session: Session, condition: ColumnElement[bool]) -> tuple[WeekOrder, ...]:
    found = session.connection().execute(
        pick(col(OrderRow.number), col(CustomerRow.name), col(OrderRow.state), col(OrderRow.bench_on))
        .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
        .where(condition, _counts())
        .order_by(col(OrderRow.bench_on), col(OrderRow.year), col(OrderRow.serial))
    )
    return tuple(WeekOrder(number, name, State(state), bench_on) for number, name, state, bench_on in found)
