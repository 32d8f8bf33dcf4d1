"""The API's invoices: those of an order, a new one, and credit notes."""

from datetime import date, datetime
from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import BaseModel, WithJsonSchema
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.invoice_values import Invoice
from studio.book.invoices import issue_credit_note, issue_invoice, issue_on_account
from studio.book.order_reads import order
from studio.craft.invoicing import InvoiceKind
from studio.craft.payments import LONGEST_WHY
from studio.craft.roles import Right
from studio.web.amounts import MOST_MINOR, read_minor
from studio.web.api_answers import as_text
from studio.web.api_fields import In, Words, one_of, text_of
from studio.web.bodies import ApiRoute
from studio.web.invoices import issued_and_printed, order_has, read_why
from studio.web.reading import Reading, read_choice, sure
from studio.web.security import Seat, requires
from studio.web.texts import LONGEST_ADDRESS, read_address, read_word

router = APIRouter(route_class=ApiRoute)

Clerk = Annotated[Seat, requires(Right.AGREE)]


class InvoiceSumOut(BaseModel):
    """What is charged at one rate of tax, in minor units."""

    percent: str
    net_minor: int
    tax_minor: int


class InvoiceOut(BaseModel):
    """An invoice or a credit note as issued. Amounts are in minor units, those of a credit note below 0.

    `payment` is what an invoice on account is for, `credits` the invoice that a credit note takes back.
    `left_minor` is what of it was not taken back; `sha256` that of its paper, null until it is printed.
    """

    number: str
    order: str
    kind: InvoiceKind
    issued_on: date
    issued_at: datetime
    issued_by: str
    customer: str
    currency: str
    net_minor: int
    tax_minor: int
    total_minor: int
    left_minor: int
    sums: list[InvoiceSumOut]
    payment: str | None
    credits: str | None
    reason: str
    sha256: str | None
    pdf: str


class InvoicesOut(BaseModel):
    """The invoices and credit notes of an order, the oldest first."""

    invoices: list[InvoiceOut]


class InvoiceIn(In):
    """An invoice to make: that of the order, or of a `payment` on account by its number.

    An `address` of up to five lines is the customer's from now on.
    """

    kind: Annotated[Any, one_of(InvoiceKind.INVOICE, InvoiceKind.ON_ACCOUNT)] = None
    payment: Words = None
    address: Annotated[Any, text_of(LONGEST_ADDRESS)] = None


class CreditNoteIn(In):
    """A credit note to make: the `amount_minor` with its tax, null for all that is left, and why."""

    amount_minor: Annotated[
        Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 0, "maximum": MOST_MINOR})
    ] = None
    why: Annotated[Any, text_of(LONGEST_WHY)] = None


@router.get("/api/orders/{number}/invoices", response_model=InvoicesOut)
def invoices(number: str, seat: Clerk) -> Response:
    """The invoices and credit notes of the order, the oldest first."""
    with session(seat.engine) as book:
        found = order(book, number)
    told = InvoicesOut(invoices=[invoice_out(one) for one in found.invoices])
    return Response(as_text(told), media_type="application/json")


@router.post("/api/orders/{number}/invoices", status_code=201, response_model=InvoiceOut)
async def made(request: Request, number: str, seat: Clerk, body: InvoiceIn) -> Response:
    """Make an invoice. 409 says what it waits for: the yes, a credit note, what is owed."""
    asked = Reading(body.fields(), "")
    kind = asked.needed("kind", lambda value, field: read_choice(value, field, InvoiceKind), "kind")
    address = asked.read("address", read_address)
    payment: str | None = None
    if kind is InvoiceKind.ON_ACCOUNT:
        payment = asked.needed("payment", read_word, "payment")
    elif asked.has("payment"):
        asked.add("payment", "An invoice takes no payment. Leave it out.")
    if kind is InvoiceKind.CREDIT_NOTE:
        asked.add("kind", "A credit note is made for its invoice: /api/invoices/{number}/credit-notes.")
    asked.stop()

    def verb(book: Session) -> Invoice:
        order_has(book, number, payment)
        if payment is not None:
            return issue_on_account(book, payment=payment, address=address, actor=seat.actor, now=seat.now)
        return issue_invoice(book, number=number, address=address, actor=seat.actor, now=seat.now)

    return await issued_and_printed(request, seat, verb, _answer)


@router.post("/api/invoices/{number}/credit-notes", status_code=201, response_model=InvoiceOut)
async def credited(request: Request, number: str, seat: Clerk, body: CreditNoteIn) -> Response:
    """Make a credit note of an invoice, for a part of it or for all that is left."""
    asked = Reading(body.fields(), "")
    amount = asked.read("amount_minor", read_minor) if asked.has("amount_minor") else None
    why = asked.needed("why", read_why, "reason")
    asked.stop()

    def verb(book: Session) -> Invoice:
        return issue_credit_note(
            book, number=number, gross_minor=amount, why=sure(why), actor=seat.actor, now=seat.now
        )

    return await issued_and_printed(request, seat, verb, _answer)


def invoice_out(one: Invoice) -> InvoiceOut:
    """An invoice as the API tells it."""
    return InvoiceOut(
        number=one.number,
        order=one.order_number,
        kind=one.kind,
        issued_on=one.issued_on,
        issued_at=one.issued_at,
        issued_by=one.issued_by,
        customer=one.customer,
        currency=one.currency,
        net_minor=one.taxed.net_minor,
        tax_minor=one.taxed.tax_minor,
        total_minor=one.taxed.gross_minor,
        left_minor=one.left.gross_minor if one.kind is not InvoiceKind.CREDIT_NOTE else 0,
        sums=[
            InvoiceSumOut(
                percent=str(sum_of.percent),
                net_minor=sum_of.taxed.net_minor,
                tax_minor=sum_of.taxed.tax_minor,
            )
            for sum_of in one.sums
        ],
        payment=one.payment,
        credits=one.credits,
        reason=one.reason,
        sha256=one.sha256,
        pdf=f"/invoices/{one.number}.pdf",
    )


def _answer(_book: Session, issued: Invoice) -> Answer:
    told = invoice_out(issued)
    return Answer(201, as_text(told), told.pdf)
