"""Invoices for the tests: a studio that makes them on account too, and the verbs."""

from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlmodel import Session

from studio.book.invoice_values import Invoice
from studio.book.invoices import issue_credit_note, issue_invoice, issue_on_account
from studio.book.people import PROGRAM
from studio.book.studio import change_studio, studio
from tests.builders import NOW

ADDRESS = "12 Saltmarsh Row\nHarwell Staithe"


def says(session: Session, **facts: Any) -> None:
    """Let the studio say otherwise than it did; on account it makes invoices unless `facts` say not."""
    told = replace(studio(session), **{"invoices_on_account": True} | facts)
    change_studio(session, facts=told, actor=PROGRAM, now=NOW)


def invoiced(session: Session, number: str, *, now: datetime = NOW, address: str | None = None) -> Invoice:
    """The invoice of an order."""
    return issue_invoice(session, number=number, address=address, actor=PROGRAM, now=now)


def on_account(session: Session, payment: str, *, now: datetime = NOW) -> Invoice:
    """The invoice for a payment."""
    return issue_on_account(session, payment=payment, actor=PROGRAM, now=now)


def credited(
    session: Session,
    number: str,
    gross_minor: int | None = None,
    *,
    why: str = "A mistake",
    now: datetime = NOW,
) -> Invoice:
    """A credit note, over all that is left unless an amount is said."""
    return issue_credit_note(session, number=number, gross_minor=gross_minor, why=why, actor=PROGRAM, now=now)
