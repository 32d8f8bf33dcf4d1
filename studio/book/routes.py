"""The way of a ring over the bench: by the rules, with what the studio changed in it and its minutes."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from sqlalchemy import bindparam
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.bench_minutes import minutes_learned
from studio.book.bench_work_tables import BenchWorkRow
from studio.book.order_reads import order as read_order
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order, OrderRing
from studio.book.order_writing import locked_order, touch
from studio.book.plain_values import as_plain, from_plain
from studio.book.rates import rates_on
from studio.book.route_errors import RouteFixed
from studio.book.route_tables import RouteRow
from studio.book.studio import zone_and_rule
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.hallmark import HallmarkRule
from studio.craft.minutes import with_minutes
from studio.craft.operations import Operation
from studio.craft.orders import State
from studio.craft.route import route
from studio.craft.route_changes import ChangedRoute, RouteChanges, changes_of, with_changes
from studio.craft.route_edits import RouteEdit, edited

ROUTE_IS_OPEN = frozenset({State.AGREED, State.AT_THE_BENCH})
"""While a ring is being made its route may be changed: before, nothing is agreed; after, it is history."""

# Built once, since sheets of a whole week ask for it.
_OF_ORDER = (
    select(RouteRow.position, RouteRow.changes)
    .join(OrderRow, col(OrderRow.id) == col(RouteRow.order_id))
    .where(col(OrderRow.number) == bindparam("number"))
)


def routes_of(session: Session, order: Order) -> Mapping[int, ChangedRoute]:
    """The route of every ring of the order by its place, with the studio's changes and its minutes.

    The minutes are the studio's median where enough of its rings say so, else those it planned on the day of
    the yes; before it, on the day the order was taken.
    """
    zone, rule = zone_and_rule(session)
    found = session.exec(_OF_ORDER, params={"number": order.number}).all()
    changes = {position: from_plain(RouteChanges, kept) for position, kept in found}
    rates = rates_on(session, day_of(order.agreed_at or order.created_at, zone))
    planned, learned = ({} if rates is None else rates.minutes), minutes_learned(session)
    routes = {}
    for ring in order.rings:
        laid = with_changes(by_rules(order.rings, ring, rule), changes.get(ring.position, RouteChanges()))
        timed = with_minutes(laid.operations, ring.design, planned, learned)
        routes[ring.position] = replace(laid, operations=timed)
    return routes


def ring_route(session: Session, order: Order, ring: OrderRing) -> tuple[Operation, ...]:
    """The operations of one ring in their order, as `routes_of` has them."""
    return routes_of(session, order)[ring.position].operations


def by_rules(rings: Sequence[OrderRing], ring: OrderRing, rule: HallmarkRule) -> tuple[Operation, ...]:
    """The route as the rules of the trade lay it down; of two rings of an order each is the other's mate."""
    others = [one.reckoning for one in rings if one.position != ring.position]
    mate = others[0] if len(others) == 1 else None
    return route(ring.reckoning, ring.particulars, rule, mate=mate)


def change_route(
    session: Session,
    *,
    number: str,
    position: int,
    edit: RouteEdit,
    version: int | None = None,
    actor: Actor,
    now: datetime,
) -> str:
    """Change one thing in the route of a ring: what was done, in words; '' where nothing changed.

    The order has a new version then, so that a printed sheet shows it is older. Raises `OrderUnknown`,
    `RouteFixed` for a ring that is not there or not being made, `VersionStale` where somebody changed the
    order since `version`, and as `edited` does: `RouteRefused`, `OperationUnknown`, `Refused`.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        order = read_order(session, number)
        ring = next((one for one in order.rings if one.position == position), None)
        if ring is None or order.state not in ROUTE_IS_OPEN:
            raise RouteFixed(number, position)
        _, rule = zone_and_rule(session)
        ruled = by_rules(order.rings, ring, rule)
        wanted = select(RouteRow).where(col(RouteRow.order_id) == row.id, col(RouteRow.position) == position)
        kept = session.exec(wanted).one_or_none()
        before = RouteChanges() if kept is None else from_plain(RouteChanges, kept.changes)
        done = edited(ruled, with_changes(ruled, before), edit, _worked_on(session, row.id, position))
        changes = changes_of(ruled, done.operations)
        if changes == before:
            return ""
        if changes.is_none and kept is not None:
            session.delete(kept)
        else:
            kept = kept or RouteRow(order_id=row.id, position=position, changes={})
            kept.changes = as_plain(changes)
            session.add(kept)
        touch(session, row, now)
        note(
            session,
            actor=actor,
            now=now,
            verb="change a route",
            order_id=row.id,
            new={"ring": f"{number}/{position}", "route": done.words},
        )
        return done.words


def _worked_on(session: Session, order_id: int, position: int) -> frozenset[str]:
    """The keys of the steps of a ring that something happened to at the bench."""
    found = select(BenchWorkRow.operation).where(
        col(BenchWorkRow.order_id) == order_id, col(BenchWorkRow.position) == position
    )
    return frozenset(session.exec(found.distinct()))
