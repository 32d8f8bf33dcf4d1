"""Reminding a customer of a quote, a deposit or a balance: by the outbox, or taken along."""

import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import OrderUnknown
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order
from studio.book.outbox_errors import NothingToRemind, RemindedLately
from studio.book.outbox_tables import OutboxRow
from studio.book.outbox_values import About, Mail, MailKind, MailState
from studio.book.owed import owed
from studio.book.quote_reads import mail_of
from studio.book.quote_tables import QuoteRow
from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.transaction import transaction
from studio.craft.missing import Deposit
from studio.craft.orders import AMENDABLE, State

LATELY = timedelta(hours=24)
"""Within this time nobody is reminded of the same twice, unless somebody says that they should be."""
OWES_DEPOSIT = frozenset({State.AGREED, State.AT_THE_BENCH})
NO_REMINDERS = frozenset({MailState.REFUSED, MailState.NOT_NEEDED})
"""States of a letter that reminded nobody."""


@dataclass(frozen=True, slots=True)
class Reminding:
    """A reminder as somebody read it: of which order and what, to whom, its subject and words."""

    number: str
    about: About
    to: str
    subject: str
    words: str


def queue_reminder(
    session: Session, *, asked: Reminding, sender: str, is_again: bool, actor: Actor, now: datetime
) -> Mail:
    """Put a reminder into the outbox. `is_again` says that one within `LATELY` is meant.

    Raises `OrderUnknown`, `NothingToRemind` and `RemindedLately`.
    """
    return _put(session, asked, MailState.QUEUED, sender=sender, is_again=is_again, actor=actor, now=now)


def take_reminder_along(
    session: Session, *, asked: Reminding, sender: str, is_again: bool, actor: Actor, now: datetime
) -> Mail:
    """Note that somebody took a reminder along, to send it by another way. Raises as above."""
    return _put(session, asked, MailState.TAKEN, sender=sender, is_again=is_again, actor=actor, now=now)


def quote_to_remind_of(session: Session, number: str, about: About) -> QuoteRow:
    """The quote a reminder goes with: the one that waits, or the agreed one.

    Raises `OrderUnknown`, and `NothingToRemind` where nothing is due.
    """
    order = session.exec(select(OrderRow).where(col(OrderRow.number) == number)).one_or_none()
    if order is None:
        raise OrderUnknown(number)
    state = QuoteState.OPEN if about is About.QUOTE else QuoteState.AGREED
    row = session.exec(
        select(QuoteRow).where(col(QuoteRow.order_id) == order.id, col(QuoteRow.state) == state)
    ).one_or_none()
    if row is None or not is_still_due(session, row.id, about):
        raise NothingToRemind(number, about)
    return row


def check_still_due(session: Session, quote_id: int, about: About) -> None:
    """Raises `NothingToRemind` where what a reminder asks for has come."""
    if not is_still_due(session, quote_id, about):
        order_id = session.get_one(QuoteRow, quote_id).order_id
        raise NothingToRemind(session.get_one(OrderRow, order_id).number, about)


def is_still_due(session: Session, quote_id: int, about: About) -> bool:
    """Whether what a reminder that went with this quote asks for has not come yet."""
    row = session.get_one(QuoteRow, quote_id)
    order = session.get_one(OrderRow, row.order_id)
    if about is About.QUOTE:
        waits_in = AMENDABLE if row.kind == QuoteKind.AMENDMENT else {State.QUOTED}
        return row.state == QuoteState.OPEN and order.state in waits_in
    due = owed(session, [order.number]).get(order.number)
    if due is None:
        return False
    if about is About.DEPOSIT:
        return order.state in OWES_DEPOSIT and due.deposit_minor > 0
    return order.state == State.READY and due.balance_minor > 0


def to_remind_of(order: Order) -> tuple[About, ...]:
    """What the customer of this order can be reminded of as it stands: the same as `is_still_due` says."""
    due = []
    is_open = any(quote.state is QuoteState.OPEN for quote in order.quotes)
    if is_open and order.state in {State.QUOTED, *AMENDABLE}:
        due.append(About.QUOTE)
    if order.agreement is not None:
        if order.state in OWES_DEPOSIT and order.agreement.deposit is Deposit.OPEN:
            due.append(About.DEPOSIT)
        if order.state is State.READY and order.account.left_minor > 0:
            due.append(About.BALANCE)
    return tuple(due)


def reminded_lately(mails: tuple[Mail, ...], now: datetime) -> Mail | None:
    """The last of these reminders within `LATELY` that reminds somebody, or is about to; None without one."""
    recent = [mail for mail in mails if mail.state not in NO_REMINDERS and mail.queued_at > now - LATELY]
    return recent[-1] if recent else None


def reminders_of(session: Session, number: str, about: About) -> tuple[Mail, ...]:
    """All reminders of the same that an order had, the first first."""
    rows = session.exec(
        select(OutboxRow)
        .join(QuoteRow, col(QuoteRow.id) == col(OutboxRow.quote_id))
        .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
        .where(col(OrderRow.number) == number, col(OutboxRow.about) == about)
        .order_by(col(OutboxRow.id))
    ).all()
    return tuple(mail_of(row) for row in rows)


def _put(
    session: Session,
    asked: Reminding,
    state: MailState,
    *,
    sender: str,
    is_again: bool,
    actor: Actor,
    now: datetime,
) -> Mail:
    is_queued = state is MailState.QUEUED
    with transaction(session):
        row = quote_to_remind_of(session, asked.number, asked.about)
        before = reminded_lately(reminders_of(session, asked.number, asked.about), now)
        if before is not None and not is_again:
            raise RemindedLately(asked.number, before.queued_at)
        mail = OutboxRow(
            quote_id=row.id,
            to_address=asked.to,
            kind=MailKind.REMINDER,
            state=state,
            about=asked.about,
            subject=asked.subject,
            words=asked.words,
            next_try_at=now if is_queued else None,
            settled_at=None if is_queued else now,
            message_id=f"<reminder-{row.number}.{secrets.token_hex(12)}@{sender.rpartition('@')[2]}>",
            queued_at=now,
            user_id=actor.id,
            actor=actor.name,
        )
        session.add(mail)
        session.flush()
        verb = "queue a reminder mail" if is_queued else "take a reminder along"
        new = {"quote": row.number, "about": asked.about}
        note(session, actor=actor, now=now, verb=verb, order_id=row.order_id, new=new)
    return mail_of(mail)
