"""Money in and out for an order: taken, given back, and an entry that was a mistake taken back.

Every one has a number and a receipt. Nothing of them is ever changed: what was wrong is said by a new entry.
"""

from dataclasses import replace
from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import NoAgreement
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order
from studio.book.order_writing import locked_order, touch
from studio.book.payment_errors import NothingPaid, PaymentUndone, PaymentUnknown
from studio.book.payment_tables import PaymentRow
from studio.book.payment_values import Sum
from studio.book.payment_writing import check_sum, checked_why, put_payment
from studio.book.transaction import transaction
from studio.craft.payments import Method


def take_payment(
    session: Session, *, number: str, money: Sum, version: int | None = None, actor: Actor, now: datetime
) -> Order:
    """Note money that came in for an agreed order; a receipt is made of it.

    Raises `OrderUnknown`, `VersionStale`; `NoAgreement` where nothing is owed because nobody said yes;
    `Refused` for what cannot be: 'amount_minor' not above 0 or above what is left to pay, 'reference' too
    long or a card's number, 'on' a day to come.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        found = order(session, number)
        if found.agreement is None:
            raise NoAgreement(number)
        account = found.account
        unsaid = max(0, found.agreement.total_minor - account.paid_minor)
        most = unsaid if account.due_minor is None else account.left_minor
        check_sum(session, money, most, found.currency, now)
        _noted(session, row, found, money, verb="take a payment", actor=actor, now=now)
    return order(session, number)


def give_back(
    session: Session, *, number: str, money: Sum, version: int | None = None, actor: Actor, now: datetime
) -> Order:
    """Note money that goes back to the customer, at most what was paid; a receipt is made of it.

    Raises `OrderUnknown`, `VersionStale`, `NothingPaid`, and `Refused` as `take_payment` does.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        found = order(session, number)
        if found.account.paid_minor <= 0:
            raise NothingPaid(number)
        check_sum(session, money, found.account.paid_minor, found.currency, now)
        back = replace(money, amount_minor=-money.amount_minor)
        _noted(session, row, found, back, verb="give money back", actor=actor, now=now)
    return order(session, number)


def undo_payment(session: Session, *, payment: str, why: str, actor: Actor, now: datetime) -> Order:
    """Take back what was entered by mistake: an entry of the same amount the other way, with the reason.

    Raises `PaymentUnknown`, `PaymentUndone`, and `Refused` naming `why` where it is missing or too long.
    """
    reason = checked_why(why)
    with transaction(session):
        wrong = session.exec(select(PaymentRow).where(col(PaymentRow.number) == payment)).one_or_none()
        if wrong is None:
            raise PaymentUnknown(payment)
        number = session.get_one(OrderRow, wrong.order_id).number
        row = locked_order(session, number, None)
        found = order(session, number)
        if not next(one for one in found.payments if one.number == payment).counts:
            raise PaymentUndone(payment)
        against = Sum(-wrong.amount_minor, Method(wrong.method), wrong.reference)
        put_payment(
            session,
            row,
            against,
            currency=wrong.currency,
            due_minor=None,
            undoes=wrong,
            why=reason,
            actor=actor,
            now=now,
        )
        touch(session, row, now)
        note(
            session,
            actor=actor,
            now=now,
            verb="take a payment back",
            order_id=row.id,
            new={"payment": payment, "amount_minor": -wrong.amount_minor},
            reason=reason,
        )
    return order(session, number)


def _noted(
    session: Session, row: OrderRow, found: Order, money: Sum, *, verb: str, actor: Actor, now: datetime
) -> None:
    taken = put_payment(
        session,
        row,
        money,
        currency=found.currency,
        due_minor=found.account.due_minor,
        actor=actor,
        now=now,
    )
    touch(session, row, now)
    new: dict[str, object] = {"payment": taken.number, "amount_minor": taken.amount_minor}
    note(session, actor=actor, now=now, verb=verb, order_id=row.id, new=new)
