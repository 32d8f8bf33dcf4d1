"""The orders behind a week's need."""

from datetime import date

from sqlmodel import Session

from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.book.week import week_need


def orders_of_week(session: Session, *, monday: date) -> list[Order]:
    """The orders whose rings the week from `monday` needs, each whole, by bench date and number."""
    week = week_need(session, monday=monday)
    numbers = {ring.number for line in week.need for ring in line.rings}
    found = [order(session, number) for number in numbers]
    return sorted(found, key=lambda one: (one.terms.bench_on or monday, one.number))
