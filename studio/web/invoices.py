"""Invoices and credit notes over HTTP: made on the order's page, served byte for byte as they were made."""

from collections.abc import Callable
from contextlib import suppress
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.errors import BookError, NotFound
from studio.book.idempotency import Answer
from studio.book.invoice_errors import InvoicePdfNotYet
from studio.book.invoice_reads import invoice_pdf
from studio.book.invoice_values import Invoice
from studio.book.invoices import (
    issue_credit_note,
    issue_invoice,
    issue_on_account,
    issued_invoice_to_print,
    put_invoice_pdf,
)
from studio.book.order_reads import order as read_order
from studio.craft.errors import Refused
from studio.craft.payments import LONGEST_WHY
from studio.craft.roles import Right
from studio.papers.paper import Paper
from studio.papers.pool import PaperFailed, PaperNotMade
from studio.web.amounts import read_amount
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import FieldError, FieldErrors, in_words
from studio.web.once import do_once
from studio.web.order_invoices import ADDRESS, AMOUNT, OF, REASON, WHOLE
from studio.web.order_mends import costs_of
from studio.web.order_page import order_context
from studio.web.printing import printer_of
from studio.web.reading import Reading, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.texts import read_address, read_text, read_word

router = APIRouter()

Clerk = Annotated[Seat, requires(Right.AGREE)]
Verb = Callable[[Session], Invoice]
_AT = {"amount_minor": AMOUNT, "why": REASON, "address": ADDRESS}
"""Where the page asks for what the book and the API call otherwise."""


@router.post("/orders/{number}/invoices", response_class=HTMLResponse)
async def make_invoice(request: Request, number: str, typed: Typed, seat: Clerk) -> Response:
    """Make the invoice of the order, or that of a payment on account; it stands with the order's invoices."""

    def verb(book: Session) -> Invoice:
        asked = Reading(typed, "")
        address = asked.read(ADDRESS, read_address)
        what = asked.read("what", read_word) or WHOLE
        asked.stop()
        order_has(book, number, None if what == WHOLE else what)
        return (
            issue_invoice(book, number=number, address=address, actor=seat.actor, now=seat.now)
            if what == WHOLE
            else issue_on_account(book, payment=what, address=address, actor=seat.actor, now=seat.now)
        )

    return await _made(request, seat, number, typed=typed, fields=(ADDRESS,), verb=verb)


@router.post("/orders/{number}/credit-notes", response_class=HTMLResponse)
async def make_credit_note(request: Request, number: str, typed: Typed, seat: Clerk) -> Response:
    """Make a credit note for one of the order's invoices."""

    def verb(book: Session) -> Invoice:
        asked = Reading(typed, "")
        of = asked.needed(OF, read_word, "invoice")
        why = asked.needed(REASON, read_why, "reason")
        found = (
            None
            if of is None
            else next((one for one in read_order(book, number).invoices if one.number == of), None)
        )
        if of is not None and found is None:
            asked.add(OF, "Choose an invoice of this order.")
        amount = (
            asked.read(AMOUNT, read_amount(found.currency))
            if found is not None and asked.has(AMOUNT)
            else None
        )
        asked.stop()
        return issue_credit_note(
            book, number=sure(of), gross_minor=amount, why=sure(why), actor=seat.actor, now=seat.now
        )

    return await _made(request, seat, number, typed=typed, fields=(OF, AMOUNT, REASON), verb=verb)


@router.get("/invoices/{number}.pdf", response_class=Response)
async def paper_of_invoice(request: Request, number: str, seat: Clerk) -> Response:
    """The paper of an invoice, byte for byte as it was made; one that is not made yet is made first."""
    try:
        pdf = await run_in_threadpool(_kept, seat, number)
    except InvoicePdfNotYet:
        await print_invoice(request, seat, number)
        pdf = await run_in_threadpool(_kept, seat, number)
    headers = {"Content-Disposition": f'inline; filename="{number}.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


async def issued_and_printed(
    request: Request,
    seat: Seat,
    verb: Verb,
    answer: Callable[[Session, Invoice], Answer],
    *,
    form_key: object = None,
) -> Response:
    """The answer to a request that issues an invoice, once under its key; then its paper is made and kept.

    Where the paper cannot be made just now the invoice stands all the same: whoever opens it first makes it.
    """
    numbers: list[str] = []

    def work(book: Session) -> Answer:
        made = verb(book)
        numbers.append(made.number)
        return answer(book, made)

    def written() -> Response:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=form_key)

    response = await run_in_threadpool(written)
    for made in numbers:
        with suppress(PaperNotMade, PaperFailed):
            await print_invoice(request, seat, made)
    return response


async def print_invoice(request: Request, seat: Seat, number: str) -> None:
    """Make the paper of an invoice out of what was frozen, and keep it; one that is there stays."""
    to_print = await run_in_threadpool(_to_print, seat, number)
    pdf = await printer_of(request).pdf(to_print)
    await run_in_threadpool(_keep, seat, number, pdf)


def order_has(book: Session, number: str, payment: str | None) -> None:
    """Raise `OrderUnknown` where the order is not there, `FieldErrors` where the payment is not one of it."""
    found = read_order(book, number)
    if payment is not None and payment not in {one.number for one in found.payments}:
        raise FieldErrors([FieldError("payment", "Choose a payment of this order.")])


def read_why(value: object, field: str) -> str:
    """Why something is credited, on one line."""
    return read_text(value, field, longest=LONGEST_WHY)


async def _made(
    request: Request,
    seat: Seat,
    number: str,
    *,
    typed: dict[str, object],
    fields: tuple[str, ...],
    verb: Verb,
) -> Response:
    """Lead back to the order's invoices, or bring the page again with what was typed and why."""
    key = typed.get("idempotency_key")
    try:
        return await issued_and_printed(
            request,
            seat,
            verb,
            lambda _book, _made: Answer(303, "", f"/orders/{number}#invoices"),
            form_key=key,
        )
    except NotFound:
        raise
    except (FieldErrors, Refused, BookError) as refused:
        texts = typed_texts(typed, *fields)
        return await run_in_threadpool(_again, request, seat, number, texts=texts, refused=refused)


def _again(
    request: Request,
    seat: Seat,
    number: str,
    *,
    texts: dict[str, str],
    refused: FieldErrors | Refused | BookError,
) -> Response:
    """The order's page once more with why nothing was made, and everything as it was typed."""
    with session(seat.engine) as book:
        standing = read_order(book, number)
    if isinstance(refused, FieldErrors | Refused):
        found = refused.errors if isinstance(refused, FieldErrors) else in_words(refused)
        placed = [FieldError(_AT.get(one.field or "", one.field), one.message) for one in found]
        said, status = to_put_right(placed, texts), 422
    else:
        why = declined(refused)
        said, status = Said("No invoice was made", (why.errors[0].message,), typed=texts), why.status_code
    context = order_context(standing, seat, said, costs_of(standing, seat))
    return page(request, "orders/order.html", context, place=Place.ORDERS, status=status)


def _kept(seat: Seat, number: str) -> bytes:
    with session(seat.engine) as book:
        return invoice_pdf(book, number)


def _to_print(seat: Seat, number: str) -> Paper:
    with session(seat.engine) as book:
        return issued_invoice_to_print(book, number)


def _keep(seat: Seat, number: str, pdf: bytes) -> None:
    with session(seat.engine) as book:
        put_invoice_pdf(book, number=number, pdf=pdf, now=seat.now)
