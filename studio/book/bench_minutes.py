"""How long the studio's own rings took at the bench, operation by operation: what the next is planned by."""

from collections import defaultdict
from collections.abc import Mapping
from itertools import groupby
from types import MappingProxyType
from weakref import WeakKeyDictionary

from sqlalchemy import Engine, func
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.bench_happened import as_happened
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.order_tables import OrderRow, RingRow
from studio.craft.bench_work import BenchWork, bench_work
from studio.craft.minutes import MinutesRecord, median_minutes, minutes_row
from studio.craft.orders import State

_MADE = (State.READY, State.HANDED_OVER)
"""A ring counts once it is made: half the courses of a work are not the work."""
MOST_ROWS = 20_000
"""So much of the latest work is looked at: some thousand rings."""
_LATEST = (
    select(BenchWorkRow, RingRow.profile, RingRow.pattern)
    .join(OrderRow, col(OrderRow.id) == col(BenchWorkRow.order_id))
    .join(
        RingRow,
        (col(RingRow.order_id) == col(BenchWorkRow.order_id))
        & (col(RingRow.position) == col(BenchWorkRow.position)),
    )
    .where(col(OrderRow.state).in_(_MADE))
    .order_by(
        col(BenchWorkRow.order_id).desc(), col(BenchWorkRow.position).desc(), col(BenchWorkRow.serial).desc()
    )
    .limit(MOST_ROWS)
)
# Built once, since the bench asks at every touch and the counter at every key. The rings that have just been
# made are those of the few orders that are ready.
_SEEN = pick(
    pick(func.max(BenchWorkRow.id)).scalar_subquery(),
    pick(func.sum(OrderRow.id)).where(col(OrderRow.state) == State.READY).scalar_subquery(),
)
_KEPT: WeakKeyDictionary[Engine, tuple[object, Mapping[str, MinutesRecord]]] = WeakKeyDictionary()


def minutes_learned(session: Session) -> Mapping[str, MinutesRecord]:
    """The median minutes of each row of the minutes, where rings enough that are made say so.

    What was found is kept until something happens at the bench or an order becomes ready: a ring counts from
    the moment it is made.
    """
    seen = tuple(session.connection().execute(_SEEN).one())
    engine = session.connection().engine
    kept = _KEPT.get(engine)
    if kept is None or kept[0] != seen:
        kept = _KEPT[engine] = seen, MappingProxyType({} if seen[0] is None else _medians(session))
    return kept[1]


def _medians(session: Session) -> dict[str, MinutesRecord]:
    taken: defaultdict[str, list[float]] = defaultdict(list)
    rows = session.exec(_LATEST).all()
    for _, found in groupby(rows, key=lambda one: (one[0].order_id, one[0].position)):
        ring = list(found)
        _, profile, pattern = ring[0]
        work = bench_work(as_happened(row) for row, _, _ in reversed(ring))
        for name, minutes in minutes_by_row(work, profile, pattern).items():
            taken[name].append(minutes)
    return median_minutes(taken)


def minutes_by_row(work: BenchWork, profile: str, pattern: str) -> dict[str, float]:
    """The minutes of one ring by the rows of the minutes; courses of one work add up."""
    sums: defaultdict[str, float] = defaultdict(float)
    for key, step in work.steps.items():
        if step.done_at is not None and (minutes := work.minutes(key, step.done_at)) is not None:
            sums[minutes_row(key, profile, pattern)] += minutes
    return dict(sums)
