"""The rings at the bench, and those of the coming days: each with how far it has come."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from sqlalchemy import or_
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.bench_happened import as_happened
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.customer_tables import CustomerRow
from studio.book.order_lines import ring_lines
from studio.book.order_list_values import RingLine
from studio.book.order_tables import OrderRow
from studio.craft.bench_work import BenchWork, Happened, bench_work
from studio.craft.orders import COUNTED_FOR_THE_WEEK, State

MOST_ORDERS = 60


@dataclass(frozen=True, slots=True)
class BenchLine:
    """One ring of the list: whose it is, when it is due at the bench, and what was done to it so far."""

    number: str
    customer_name: str
    state: State
    bench_on: date | None
    ring: RingLine
    count: int
    work: BenchWork


def bench_lines(session: Session, *, until: date) -> tuple[BenchLine, ...]:
    """The rings at the bench, and those agreed for a day up to `until`, the nearest day first.

    Those without a day come last. At most the rings of `MOST_ORDERS` orders.
    """
    found = (
        session.connection()
        .execute(
            pick(
                col(OrderRow.id),
                col(OrderRow.number),
                col(CustomerRow.name),
                col(OrderRow.state),
                col(OrderRow.bench_on),
            )
            .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
            .where(
                col(OrderRow.state).in_(COUNTED_FOR_THE_WEEK),
                or_(col(OrderRow.state) == State.AT_THE_BENCH, col(OrderRow.bench_on) <= until),
            )
            .order_by(
                col(OrderRow.bench_on).is_(None),
                col(OrderRow.bench_on),
                col(OrderRow.year),
                col(OrderRow.serial),
            )
            .limit(MOST_ORDERS)
        )
        .all()
    )
    ids = [row[0] for row in found]
    rings, works = ring_lines(session, ids), _works(session, ids)
    return tuple(
        BenchLine(
            number, name, State(state), bench_on, ring, len(lines), works.get((row_id, ring.position), _NONE)
        )
        for row_id, number, name, state, bench_on in found
        for lines in [rings.get(row_id, ())]
        for ring in lines
    )


_NONE = BenchWork()


def _works(session: Session, ids: list[int]) -> dict[tuple[int, int], BenchWork]:
    happened: defaultdict[tuple[int, int], list[Happened]] = defaultdict(list)
    rows = session.exec(
        select(BenchWorkRow).where(col(BenchWorkRow.order_id).in_(ids)).order_by(col(BenchWorkRow.serial))
    )
    for row in rows:
        happened[row.order_id, row.position].append(as_happened(row))
    return {ring: bench_work(told) for ring, told in happened.items()}
