"""Orders to be reminded of: a quote that ends, an open deposit, a balance of what is ready."""

from datetime import datetime, timedelta

from sqlmodel import Session

from studio.book.orders import CustomerDraft, Order, order
from studio.craft.orders import State
from tests.builders import NOW, an_order, one_step
from tests.quoting import a_quote, a_yes

TO = "jorun@mueller.example"
WHOSE = CustomerDraft("Jorun Müller", "01632 960 101", TO)


def an_ending_quote(session: Session, *, days: int = 2, now: datetime = NOW) -> str:
    """The number of an order whose quote ends `days` from now; below 0 it ended before."""
    stands = an_order(session, customer=WHOSE, now=now - timedelta(days=30))
    a_quote(session, stands, now=now - timedelta(days=20), valid_days=20 + days)
    return stands.number


def an_open_deposit(session: Session, *, paid_minor: int | None = None, now: datetime = NOW) -> str:
    """The number of an agreed order whose deposit is open, or paid in part."""
    made = a_quote(session, an_order(session, customer=WHOSE, now=now), now=now)
    return a_yes(session, made, deposit_minor=paid_minor, now=now).number


def a_balance(session: Session, *, now: datetime = NOW, is_paid: bool = False) -> str:
    """The number of an order that is ready, its deposit paid and nothing else; or all of it."""
    made = a_quote(session, an_order(session, customer=WHOSE, now=now), now=now)
    stands = a_yes(session, made, deposit_minor=made.total_minor if is_paid else made.deposit_minor, now=now)
    return brought_to_ready(session, stands, now=now).number


def brought_to_ready(session: Session, stands: Order, *, now: datetime = NOW) -> Order:
    """The order after the bench."""
    for step in (State.AT_THE_BENCH, State.READY):
        stands = one_step(session, stands, step, now=now)
    return order(session, stands.number)
