"""A studio that can quote: its rates and prices, and orders with a quote and a yes."""

from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from sqlmodel import Session

from studio.book.amendments import amendable, amending_of
from studio.book.metal_prices import add_metal_prices
from studio.book.orders import Order, order
from studio.book.payment_values import Sum
from studio.book.payments import take_payment, undo_payment
from studio.book.people import PROGRAM
from studio.book.quotes import Quote, QuoteTerms, agree, issue_quote, quotable
from studio.book.rates import put_rates
from studio.book.transaction import transaction
from studio.craft.minutes import minute_rows
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit
from tests.builders import NOW, TODAY, an_order

PDF = b"%PDF-1.7 any bytes"
RATES = Rates(
    currency="GBP",
    labour_hour_minor=4800,
    overhead_percent=Decimal(25),
    consumables_minor=400,
    premium_percent=Decimal(12),
    waste_percent=Decimal(5),
    margin_percent=Decimal(30),
    extra_margin_percent={Extra.ASSAY: Decimal(10)},
    assay_minor=1200,
    tax_percent=Decimal(20),
    step_minor=500,
    deposit_percent=Decimal(40),
    valid_days=14,
    stale_after_days=7,
    minutes={row: 7 + place for place, row in enumerate(minute_rows())},
)
PRICES = (
    ("gold", "65.20"),
    ("silver", "0.95"),
    ("platinum", "31"),
    ("palladium", "28.4"),
    ("copper", "0.0184"),
)


def put_figures(session: Session, *, on: date = TODAY, now: datetime = NOW) -> None:
    """Give the studio its rates and a price for the precious metals and copper."""
    with transaction(session):
        put_rates(session, rates=RATES, actor=PROGRAM, now=now)
        prices = [MetalPrice(metal, Decimal(price), WeightUnit.G, on, "a test") for metal, price in PRICES]
        add_metal_prices(session, prices=prices, actor=PROGRAM, now=now)


def a_quote(
    session: Session,
    stands: Order | None = None,
    *,
    pdf: bytes | None = PDF,
    now: datetime = NOW,
    **terms: Any,
) -> Quote:
    """A quote of an order that lacks nothing; `put_figures` comes first."""
    quoted = stands or an_order(session, now=now)
    draft = quotable(session, quoted.number, terms=QuoteTerms(**terms), now=now)
    return issue_quote(session, draft=draft, pdf=pdf, actor=PROGRAM, now=now)


def a_yes(session: Session, quote: Quote | None = None, *, now: datetime = NOW, **facts: Any) -> Order:
    """The order after the yes to a quote, the deposit paid unless `facts` say otherwise."""
    asked = quote or a_quote(session, now=now)
    said: dict[str, Any] = {"name": "Jorun Müller", "deposit_minor": asked.deposit_minor} | facts
    paid = said.pop("deposit_minor")
    agree(session, quote=asked.number, deposit=Sum(paid) if paid else None, actor=PROGRAM, now=now, **said)
    return order(session, asked.order_number)


def paid(session: Session, number: str, amount_minor: int, *, now: datetime = NOW, **how: Any) -> Order:
    """The order after a payment."""
    money = Sum(amount_minor, **how)
    return take_payment(session, number=number, money=money, actor=PROGRAM, now=now)


def unpaid(session: Session, stands: Order, *, now: datetime = NOW) -> Order:
    """The order with every payment of it taken back as entered by mistake."""
    for one in stands.payments:
        stands = undo_payment(session, payment=one.number, why="The other order's.", actor=PROGRAM, now=now)
    return stands


def an_amendment(
    session: Session, agreed: Order, *, words: str = "As told on the telephone.", now: datetime = NOW
) -> Quote:
    """An amendment to an agreed order that waits for its answer; it changes the words alone."""
    amending = replace(amending_of(agreed), words=words)
    draft = amendable(session, agreed.number, amending=amending, actor=PROGRAM, now=now)
    return issue_quote(session, draft=draft, pdf=PDF, actor=PROGRAM, now=now)
