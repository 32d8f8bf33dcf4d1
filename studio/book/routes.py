"""The way a ring of an order goes over the bench, as everybody asks for it."""

from sqlmodel import Session

from studio.book.order_values import Order, OrderRing
from studio.book.rates import rates_on
from studio.book.studio import zone_and_rule
from studio.clock import day_of
from studio.craft.minutes import with_minutes
from studio.craft.operations import Operation
from studio.craft.route import route


def ring_route(session: Session, order: Order, ring: OrderRing) -> tuple[Operation, ...]:
    """The operations of a ring in order, with the minutes the studio planned on the day of the yes.

    Before the yes they are those of the day the order was taken; an operation nobody planned has none.
    """
    zone, rule = zone_and_rule(session)
    rates = rates_on(session, day_of(order.agreed_at or order.created_at, zone))
    operations = route(ring.reckoning, ring.particulars, rule)
    return with_minutes(operations, ring.design, {} if rates is None else rates.minutes)
