"""The hours of the bench by week: planned by the rings due there, and noted by those who worked."""

from collections import defaultdict
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Any

from sqlalchemy import and_, or_
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.bench_happened import as_happened
from studio.book.bench_minutes import minutes_learned
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.order_tables import OrderRow
from studio.book.plain_values import from_plain
from studio.book.rates import rates_on_days
from studio.book.ring_reads import rings_by_order
from studio.book.route_tables import RouteRow
from studio.book.routes import by_rules
from studio.book.studio import zone_and_rule
from studio.clock import day_begins, day_of
from studio.craft.bench_load import PlannedRing, WeekLoad, week_loads
from studio.craft.bench_work import Happened, Spell, spells
from studio.craft.minutes import OPERATIONS, with_minutes
from studio.craft.orders import State
from studio.craft.route_changes import RouteChanges, with_changes

_PLANNED = (State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER)
_WAS_THERE = (State.AGREED, State.READY, State.HANDED_OVER, State.CALLED_OFF)
_WEEK = timedelta(days=7)


def bench_load(session: Session, *, mondays: Sequence[date], now: datetime) -> tuple[WeekLoad, ...]:
    """The weeks that begin on these Mondays, which follow each other: minutes planned and minutes noted.

    Planned are the rings of agreed orders and of those that went on from there, by bench date, as
    `routes_of` has their minutes. Noted is what stands at the bench, by the days of the studio's own zone;
    None for weeks that have not begun.
    """
    planned = planned_rings(session, mondays[0], mondays[-1] + _WEEK - timedelta(days=1))
    zone, _ = zone_and_rule(session)
    begins = [day_begins(monday, zone) for monday in (*mondays, mondays[-1] + _WEEK)]
    worked = worked_since(session, begins[0], now)
    noted = [
        None if start > now else sum(one.minutes_between(start, end) for one in worked)
        for start, end in pairwise(begins)
    ]
    return week_loads(mondays, planned, noted)


def planned_rings(session: Session, first: date, last: date) -> tuple[PlannedRing, ...]:
    """The rings whose bench date lies from day to day, each with the minutes of its route."""
    zone, rule = zone_and_rule(session)
    wanted = (
        pick(
            col(OrderRow.id),
            col(OrderRow.number),
            col(OrderRow.bench_on),
            col(OrderRow.agreed_at),
            col(OrderRow.created_at),
        )
        .where(col(OrderRow.state).in_(_PLANNED), col(OrderRow.bench_on).between(first, last))
        .order_by(col(OrderRow.bench_on), col(OrderRow.id))
    )
    rows: list[tuple[Any, ...]] = [tuple(row) for row in session.connection().execute(wanted)]
    if not rows:
        return ()
    ids = [row[0] for row in rows]
    rings, learned = rings_by_order(session, ids), minutes_learned(session)
    kept = select(RouteRow.order_id, RouteRow.position, RouteRow.changes)
    changes = {
        (order_id, position): from_plain(RouteChanges, changed)
        for order_id, position, changed in session.exec(kept.where(col(RouteRow.order_id).in_(ids)))
    }
    days = {order_id: day_of(agreed or created, zone) for order_id, _, _, agreed, created in rows}
    rates = rates_on_days(session, set(days.values()))
    found = []
    for order_id, number, bench_on, *_ in rows:
        of_day = rates[days[order_id]]
        table = {} if of_day is None else of_day.minutes
        for ring in rings.get(order_id, ()):
            ruled = by_rules(rings[order_id], ring, rule)
            laid = with_changes(ruled, changes.get((order_id, ring.position), RouteChanges()))
            steps = with_minutes(laid.operations, ring.design, table, learned)
            found.append(
                PlannedRing(
                    f"{number}/{ring.position}",
                    bench_on,
                    sum(one.minutes or 0.0 for one in steps),
                    sum(one.minutes is None and one.minutes_row in OPERATIONS for one in steps),
                )
            )
    return tuple(found)


def worked_since(session: Session, start: datetime, now: datetime) -> tuple[Spell, ...]:
    """When rings were worked on, of all orders that may have been at the bench since `start`.

    An order that was there since is there still, or has moved on since: its older work is read with it, as an
    undo may reach back to it.
    """
    rows = session.exec(
        select(BenchWorkRow)
        .join(OrderRow, col(OrderRow.id) == col(BenchWorkRow.order_id))
        .where(
            or_(
                col(OrderRow.state) == State.AT_THE_BENCH,
                and_(col(OrderRow.state).in_(_WAS_THERE), col(OrderRow.state_since) >= start),
            )
        )
        .order_by(col(BenchWorkRow.order_id), col(BenchWorkRow.position), col(BenchWorkRow.serial))
    )
    happened: defaultdict[tuple[int, int], list[Happened]] = defaultdict(list)
    for row in rows:
        happened[row.order_id, row.position].append(as_happened(row))
    return tuple(spell for told in happened.values() for spell in spells(told, now))
