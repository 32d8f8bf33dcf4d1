"""Two letters of the demo: one that a mail server took, and one that it refused. Nothing goes out for it."""

from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.order_reads import order, orders_page
from studio.book.outbox import note_handed_over, note_not_handed_over, queue_mail, take_mail
from studio.book.outbox_values import MailKind
from studio.book.quote_values import QuoteState
from studio.craft.orders import State

_TAKEN, _UNKNOWN = "250 queued", "550 5.1.1 mailbox unavailable"


def mails_in_demo(session: Session, *, sender: str, actor: Actor, now: datetime) -> None:
    """The two newest quotes that wait for an answer from a customer with an address."""
    quoted = [
        order(session, line.number)
        for line in orders_page(session, state=State.QUOTED, limit=200, now=now).items
    ]
    waiting = [
        (quote.number, found.customer.email)
        for found in quoted
        for quote in found.quotes
        if found.customer.email and quote.state is QuoteState.OPEN and not quote.has_expired(now)
    ]
    for (number, email), is_taken in zip(waiting, (True, False), strict=False):
        queue_mail(
            session, number=number, to=email or "", kind=MailKind.QUOTE, sender=sender, actor=actor, now=now
        )
        taken = take_mail(session, now=now)
        if taken is not None and is_taken:
            note_handed_over(session, taken=taken, answer=_TAKEN, now=now)
        elif taken is not None:
            note_not_handed_over(session, taken=taken, answer=_UNKNOWN, is_final=True, now=now)
