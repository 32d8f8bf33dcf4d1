"""All that stands on an invoice, out of the book as it is when it is issued."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from sqlmodel import Session

from studio.book.agreed_quotes import agreed_steps
from studio.book.frozen import as_agreed
from studio.book.invoice_errors import NotInvoiced, WhyNotInvoiced
from studio.book.invoice_values import Invoice
from studio.book.order_values import Order
from studio.book.studio import Studio, letterhead_of
from studio.clock import day_of
from studio.craft.invoicing import InvoiceKind, InvoiceLine, OnAccount, Taxed, tax_within
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.papers.invoice import InvoiceFacts
from studio.papers.quote_facts import Letterhead
from studio.papers.quote_words import day_of_year, ring_sentence


@dataclass(frozen=True, slots=True)
class Charged:
    """What an order comes to when it is invoiced: its lines, and the rate and currency of what was agreed."""

    lines: tuple[InvoiceLine, ...]
    percent: Decimal
    currency: str

    @property
    def whole(self) -> Taxed:
        """All lines together."""
        return sum((line.taxed for line in self.lines), start=Taxed())


def charged(session: Session, found: Order, facts: Studio) -> Charged:
    """What the order comes to: the lines that were agreed, or what is owed of one that was called off.

    Raises `NotInvoiced`.
    """
    if found.agreement is None or found.state in BEFORE_AGREEMENT:
        raise NotInvoiced(found.number, found.state, WhyNotInvoiced.NOT_AGREED)
    last = agreed_steps(session, found.agreement)[-1]
    agreed = as_agreed(last.frozen, last.variant)
    percent = Decimal(agreed["rates"]["tax_percent"])
    lines = tuple(
        InvoiceLine(line["text"], percent, Taxed(line["net_minor"], line["tax_minor"]))
        for line in agreed["breakdown"]["lines"]
    )
    if found.state is State.CALLED_OFF:
        lines = (_owed(found, percent, facts),)
    if not sum(line.taxed.gross_minor for line in lines):
        raise NotInvoiced(found.number, found.state, WhyNotInvoiced.NOTHING_OWED)
    return Charged(lines, percent, agreed["breakdown"]["currency"])


def invoice_facts(
    found: Order, facts: Studio, *, kind: InvoiceKind, number: str, now: datetime, currency: str
) -> InvoiceFacts:
    """What every paper of the series says: whose it is, for whom, when and for which rings; no line yet."""
    rings = [ring_sentence(ring.reckoning) for ring in found.rings]
    return InvoiceFacts(
        studio=Letterhead(**letterhead_of(facts)),
        kind=kind,
        number=number,
        order_number=found.number,
        customer=found.customer.name,
        customer_address=found.customer.address,
        issued_on=day_of(now, facts.time_zone),
        currency=currency,
        lines=(),
        rings=tuple(rings) if kind is not InvoiceKind.CREDIT_NOTE else (),
        tax_name=facts.tax_name,
        tax_number=facts.tax_number,
        supplied_on=_handed_over(found, facts) if kind is InvoiceKind.INVOICE else None,
        note=facts.invoice_note,
    )


def on_account_of(found: Order) -> tuple[OnAccount, ...]:
    """What was invoiced on account of an order and not credited since."""
    return tuple(
        OnAccount(one.number, one.sums[0].percent, one.left)
        for one in found.invoices
        if one.kind is InvoiceKind.ON_ACCOUNT
    )


def standing_invoice(found: Order) -> Invoice | None:
    """The invoice of an order that is not credited: there is at most one."""
    return next(
        (one for one in found.invoices if one.kind is InvoiceKind.INVOICE and not one.is_credited), None
    )


def _handed_over(found: Order, facts: Studio) -> date | None:
    """The day it was handed over, in the studio's time zone."""
    return day_of(found.state_since, facts.time_zone) if found.state is State.HANDED_OVER else None


def _owed(found: Order, percent: Decimal, facts: Studio) -> InvoiceLine:
    """What is owed of an order called off, as one line with the tax that was agreed in it."""
    called_off = found.calling_off
    if called_off is None or called_off.settlement is None:
        raise NotInvoiced(found.number, found.state, WhyNotInvoiced.OWED_NOT_SAID)
    day = day_of_year(day_of(called_off.called_off_at, facts.time_zone))
    text = f"What is owed of order {found.number}, called off on {day}"
    return InvoiceLine(text, percent, tax_within(called_off.settlement.owed_minor, percent))
