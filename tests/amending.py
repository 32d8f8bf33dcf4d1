"""Agreed orders and what they are amended to."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

from sqlmodel import Session

from studio.book.amendments import amendable, amending_of, asked_again
from studio.book.order_values import Amending
from studio.book.orders import Order
from studio.book.people import PROGRAM
from studio.book.quotes import Quote, issue_quote
from tests.builders import NOW, an_order
from tests.quoting import PDF, a_quote, a_yes, put_figures

LATER = NOW + timedelta(hours=2)
NARROWER: dict[str, Any] = {"width_mm": 5.0}


def agreed(session: Session, **facts: Any) -> Order:
    """An agreed order, its deposit paid, in a studio that has its figures."""
    put_figures(session)
    return a_yes(session, a_quote(session, an_order(session, **facts)))


def changing(stands: Order, **design: Any) -> Amending:
    """The amendment of an order that changes the design of its first ring."""
    begun = stands.amending or amending_of(stands)
    first = begun.rings[0]
    return asked_again(begun, 1, replace(first, design=replace(first.design, **design)))


def issued(session: Session, stands: Order, amending: Amending, **facts: Any) -> Quote:
    """The amendment as it is issued."""
    draft = amendable(session, stands.number, amending=amending, actor=PROGRAM, now=LATER, **facts)
    return issue_quote(session, draft=draft, pdf=PDF, actor=PROGRAM, now=LATER)
