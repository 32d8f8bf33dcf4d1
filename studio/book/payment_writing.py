"""Putting a payment into the book inside a transaction that holds its order, with its receipt."""

from datetime import datetime
from typing import Any

from sqlalchemy import func
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.customer_tables import CustomerRow
from studio.book.document_tables import DocumentRow
from studio.book.document_values import LETTERS, DocumentKind
from studio.book.order_tables import OrderRow
from studio.book.order_writing import one_line
from studio.book.payment_tables import PaymentRow
from studio.book.payment_values import Sum
from studio.book.studio import letterhead_of, studio, time_zone
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.money import from_minor
from studio.craft.payments import LONGEST_REFERENCE, LONGEST_WHY, holds_card_number


def check_sum(
    session: Session,
    money: Sum,
    most_minor: int,
    currency: str,
    now: datetime,
    *,
    field: str = "amount_minor",
) -> None:
    """Whether this can have been paid: above 0, at most `most_minor`, today or before. Raises `Refused`."""
    refused: list[Refusal] = []
    if not 0 < money.amount_minor <= most_minor:
        typed = str(from_minor(money.amount_minor, currency))[:24]
        most = float(from_minor(most_minor, currency))
        why = Why.NOT_ABOVE_ZERO if money.amount_minor <= 0 else Why.TOO_LARGE
        refused.append(Refusal(field, why, typed, 0, most, currency))
    reference = one_line(money.reference) or ""
    if holds_card_number(reference):
        refused.append(Refusal("reference", Why.CARD_NUMBER))
    elif len(reference) > LONGEST_REFERENCE:
        refused.append(
            Refusal("reference", Why.TOO_LONG, reference[:24], high=LONGEST_REFERENCE, unit="signs")
        )
    if money.on is not None and money.on > day_of(now, time_zone(session)):
        refused.append(Refusal("on", Why.DAY_TO_COME, money.on.isoformat()))
    if refused:
        raise Refused(*refused)


def checked_why(why: str) -> str:
    """Why an entry of money is taken back, on one line. Raises `Refused` naming `why`: none, or too long."""
    reason = one_line(why)
    if reason is None:
        raise Refused(Refusal("why", Why.EMPTY))
    if len(reason) > LONGEST_WHY:
        raise Refused(Refusal("why", Why.TOO_LONG, reason[:24], high=LONGEST_WHY, unit="signs"))
    return reason


def put_payment(
    session: Session,
    row: OrderRow,
    money: Sum,
    *,
    currency: str,
    due_minor: int | None,
    undoes: PaymentRow | None = None,
    why: str = "",
    actor: Actor,
    now: datetime,
) -> PaymentRow:
    """Add the payment under the order's next number; below 0 it is given back.

    A receipt is made of it, which says what is left of `due_minor`; none of one that takes another back.
    Inside a transaction that holds `row`. What is checked is checked before (`check_sum`).
    """
    of_order = col(PaymentRow.order_id) == row.id
    count = session.exec(select(func.count()).select_from(PaymentRow).where(of_order)).one()
    paid = session.exec(select(func.coalesce(func.sum(PaymentRow.amount_minor), 0)).where(of_order)).one()
    facts = studio(session)
    payment = PaymentRow(
        number=f"{row.number}-{LETTERS[DocumentKind.PAYMENT]}{count + 1}",
        order_id=row.id,
        amount_minor=money.amount_minor,
        currency=currency,
        method=money.method,
        reference=one_line(money.reference) or "",
        on_day=money.on or day_of(now, facts.time_zone),
        noted_at=now,
        user_id=actor.id,
        actor=actor.name,
        undoes_id=None if undoes is None else undoes.id,
        why=why,
    )
    session.add(payment)
    if undoes is not None:
        session.flush()
        return payment
    kept: dict[str, Any] = {
        "number": payment.number,
        "order": row.number,
        "issued_on": day_of(now, facts.time_zone).isoformat(),
        "studio": letterhead_of(facts),
        "customer": session.get_one(CustomerRow, row.customer_id).name,
        "actor": actor.name,
        "amount_minor": payment.amount_minor,
        "paid_minor": int(paid) + payment.amount_minor,
        "due_minor": due_minor,
        "currency": currency,
        "method": payment.method,
        "reference": payment.reference,
        "on": payment.on_day.isoformat(),
    }
    receipt = DocumentRow(
        number=payment.number,
        order_id=row.id,
        kind=DocumentKind.PAYMENT,
        revision=count + 1,
        issued_at=now,
        user_id=actor.id,
        actor=actor.name,
        goods=[],
        frozen=kept,
    )
    session.add(receipt)
    session.flush()
    return payment
