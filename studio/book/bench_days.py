"""What the studio asks in the morning: which rings are on the bench, who said yes, what the days hold."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from sqlalchemy import func
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.customer_tables import CustomerRow
from studio.book.order_lines import ring_lines
from studio.book.order_list_values import RingLine
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_values import Order
from studio.craft.orders import BEFORE_AGREEMENT, COUNTED_FOR_THE_WEEK, State

SATURDAY = 5


@dataclass(frozen=True, slots=True)
class SaidYes:
    """An order that was agreed lately: whose, which rings, and when (UTC)."""

    number: str
    customer_name: str
    agreed_at: datetime
    rings: tuple[RingLine, ...]


@dataclass(frozen=True, slots=True)
class PlannedOrder:
    """An order on a day of the bench, with the number of its rings."""

    number: str
    customer_name: str
    rings: int


@dataclass(frozen=True, slots=True)
class BenchDay:
    """One day of the bench and the orders whose bench date it is."""

    on: date
    orders: tuple[PlannedOrder, ...]


def at_the_bench(session: Session, *, limit: int = 12) -> list[Order]:
    """The orders that are at the bench now, whole, by bench date; at most `limit`."""
    found = session.connection().execute(
        pick(col(OrderRow.number))
        .where(col(OrderRow.state) == State.AT_THE_BENCH)
        .order_by(
            col(OrderRow.bench_on).is_(None), col(OrderRow.bench_on), col(OrderRow.year), col(OrderRow.serial)
        )
        .limit(limit)
    )
    return [order(session, number) for (number,) in found.all()]


def said_yes(session: Session, *, since: datetime, limit: int = 50) -> list[SaidYes]:
    """The orders agreed at or after `since` that still stand, the latest first; at most `limit`."""
    found = (
        session.connection()
        .execute(
            pick(col(OrderRow.id), col(OrderRow.number), col(CustomerRow.name), col(OrderRow.agreed_at))
            .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
            .where(
                col(OrderRow.agreed_at) >= since,
                col(OrderRow.state).not_in([*BEFORE_AGREEMENT, State.CALLED_OFF]),
            )
            .order_by(col(OrderRow.agreed_at).desc(), col(OrderRow.id).desc())
            .limit(limit)
        )
        .all()
    )
    rings = ring_lines(session, [row[0] for row in found])
    return [SaidYes(number, name, at, rings.get(row_id, ())) for row_id, number, name, at in found if at]


def bench_days(session: Session, *, today: date, count: int = 5) -> tuple[BenchDay, ...]:
    """The next `count` days at the bench from `today` on, each with the orders agreed or begun for it.

    Saturdays and Sundays are left out unless something is planned for them.
    """
    last = today + timedelta(days=2 * count)
    found = session.connection().execute(
        pick(col(OrderRow.bench_on), col(OrderRow.number), col(CustomerRow.name), func.count(col(RingRow.id)))
        .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
        .join(RingRow, col(RingRow.order_id) == col(OrderRow.id))
        .where(col(OrderRow.bench_on).between(today, last), col(OrderRow.state).in_(COUNTED_FOR_THE_WEEK))
        .group_by(
            col(OrderRow.id),
            col(OrderRow.bench_on),
            col(OrderRow.number),
            col(CustomerRow.name),
            col(OrderRow.year),
            col(OrderRow.serial),
        )
        .order_by(col(OrderRow.bench_on), col(OrderRow.year), col(OrderRow.serial))
    )
    planned: defaultdict[date, list[PlannedOrder]] = defaultdict(list)
    for bench_on, number, name, rings in found:
        if bench_on is not None:
            planned[bench_on].append(PlannedOrder(number, name, rings))
    days = (today + timedelta(days=ahead) for ahead in range(2 * count + 1))
    worked = [day for day in days if day.weekday() < SATURDAY or day in planned]
    return tuple(BenchDay(day, tuple(planned[day])) for day in worked[:count])
