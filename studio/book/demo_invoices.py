"""The demo's invoices of today: of orders handed over, of a payment on account, and a credit note."""

from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.invoices import issue_credit_note, issue_invoice, issue_on_account
from studio.book.orders import order, orders_page
from studio.craft.orders import State

_INVOICED, _ON_ACCOUNT = 3, 2
_ADDRESSES = (
    "12 Saltmarsh Row\nHarwell Staithe",
    "The Old Forge\n3 Tanner's Yard\nHarwell Staithe",
    "28 Beacon Terrace, flat 2\nHarwell Staithe",
)
_PART_MINOR = 25_00


def invoices_in_demo(session: Session, *, actor: Actor, now: datetime) -> None:
    """Three orders that were handed over are invoiced, two payments on account; one in part credited."""
    agreed = [
        order(session, line.number)
        for line in orders_page(session, state=State.AGREED, limit=200, now=now).items
    ]
    for found in [one for one in agreed if one.to_invoice][:_ON_ACCOUNT]:
        issue_on_account(session, payment=found.to_invoice[0], actor=actor, now=now)
    done = orders_page(session, state=State.HANDED_OVER, limit=200, now=now).items
    made = [
        issue_invoice(session, number=line.number, address=address, actor=actor, now=now)
        for line, address in zip(done[:_INVOICED], _ADDRESSES, strict=False)
    ]
    for one in made[:1]:
        issue_credit_note(
            session,
            number=one.number,
            gross_minor=_PART_MINOR,
            why="The engraving was left out on the day",
            actor=actor,
            now=now,
        )
