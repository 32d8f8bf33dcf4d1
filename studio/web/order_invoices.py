"""The invoices of an order on its page, and the forms that make an invoice or a credit note."""

from dataclasses import dataclass

from studio.book.invoice_facts import standing_invoice
from studio.book.invoice_values import Invoice
from studio.book.order_values import Order
from studio.craft.directions import apart
from studio.craft.invoicing import InvoiceKind
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.roles import Right
from studio.papers.invoice import KIND_WORDS
from studio.papers.money import money_words
from studio.web.amounts import currency_sign
from studio.web.counter_choices import Choice
from studio.web.days import day_words
from studio.web.security import Seat
from studio.web.sent_back import Said

ADDRESS, OF, AMOUNT, REASON = "invoice_address", "credit_of", "credit_amount", "credit_why"
"""The fields of the section's forms."""
WHOLE = "invoice"
"""What the button sends that makes the invoice of the order; one for a payment sends its number."""


@dataclass(frozen=True, slots=True)
class InvoiceLinePart:
    """One paper of the series: what it is, when it was made, what it comes to, what became of it."""

    number: str
    href: str
    words: str
    made: str
    total: str
    note: str
    is_over: bool


@dataclass(frozen=True, slots=True)
class InvoiceButton:
    """One button that makes an invoice: what it sends, and its words."""

    value: str
    words: str


@dataclass(frozen=True, slots=True)
class CreditForm:
    """The form for a credit note; `sign` is that of the currency."""

    choices: tuple[Choice, ...]
    of: str
    amount: str
    why: str
    sign: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class InvoicesPart:
    """The invoices of an order, and what may be made. `waits` says what an invoice waits for, '' for nothing.

    `asks_address` is whether no postal address of the customer's is in the book.
    """

    lines: tuple[InvoiceLinePart, ...]
    buttons: tuple[InvoiceButton, ...]
    waits: str
    asks_address: bool
    address: str
    law: str
    credit: CreditForm | None


def invoices_part(order: Order, seat: Seat, said: Said) -> InvoicesPart | None:
    """The invoices of an order for who sits there; None before the yes, and for who sees no price."""
    if not seat.may(Right.AGREE):
        return None
    is_agreed = order.agreement is not None and order.state not in BEFORE_AGREEMENT
    if not is_agreed and not order.invoices:
        return None
    is_called_off = order.state is State.CALLED_OFF
    is_owed = not is_called_off or (
        order.calling_off is not None and order.calling_off.settlement is not None
    )
    buttons = _buttons(order) if is_agreed and is_owed else ()
    return InvoicesPart(
        lines=tuple(_line(one, order, seat) for one in reversed(order.invoices)),
        buttons=buttons,
        waits="" if is_owed else "what is owed",
        asks_address=bool(buttons) and not order.customer.address,
        address=said.typed.get(ADDRESS, ""),
        law="What is invoiced of an order called off, and with which tax, is law: ask a professional."
        if is_called_off
        else "",
        credit=_credit(order, said),
    )


def _buttons(order: Order) -> tuple[InvoiceButton, ...]:
    if standing_invoice(order) is not None:
        return ()
    on_account = tuple(
        InvoiceButton(
            paid.number,
            f"Invoice {paid.number} on account, {money_words(paid.amount_minor, paid.currency)}",
        )
        for paid in order.payments
        if paid.number in order.to_invoice
    )
    return (*on_account, InvoiceButton(WHOLE, "Make the invoice"))


def _line(one: Invoice, order: Order, seat: Seat) -> InvoiceLinePart:
    return InvoiceLinePart(
        number=one.number,
        href=f"/invoices/{one.number}.pdf",
        words=KIND_WORDS[one.kind],
        made=f"made {day_words(one.issued_on, today=seat.today)} by {apart(one.issued_by)}",
        total=money_words(one.taxed.gross_minor, one.currency),
        note=_note(one, order),
        is_over=one.is_credited,
    )


def _note(one: Invoice, order: Order) -> str:
    """What it is for, and what became of it."""
    if one.kind is InvoiceKind.CREDIT_NOTE:
        return f"takes back {one.credits}: {apart(one.reason)}"
    told = [f"for {one.payment}"] if one.payment else []
    paid = next((paid for paid in order.payments if paid.number == one.payment), None)
    if paid is not None and paid.undone_by is not None and not one.is_credited:
        told.append("that payment was taken back, so credit this")
    if one.is_credited:
        told.append("credited")
    elif one.notes:
        told.append(f"{money_words(one.taken_back.gross_minor, one.currency)} of it credited")
    return ", ".join(told)


def _credit(order: Order, said: Said) -> CreditForm | None:
    to_credit = [one for one in reversed(order.invoices) if one.is_to_credit]
    if not to_credit:
        return None
    choices = tuple(
        Choice(
            one.number,
            f"{one.number}, {money_words(one.left.gross_minor, one.currency)} left",
        )
        for one in to_credit
    )
    fields = (OF, AMOUNT, REASON)
    return CreditForm(
        choices=choices,
        of=said.typed.get(OF, to_credit[0].number),
        amount=said.typed.get(AMOUNT, ""),
        why=said.typed.get(REASON, ""),
        sign=currency_sign(to_credit[0].currency),
        is_open=any(name in said.typed or said.error(name) for name in fields),
    )
