"""The documents of an order over HTTP: made on its page, and served byte for byte as they were issued."""

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.document_errors import DocumentPdfNotYet
from studio.book.document_papers import document_to_print, issued_document_to_print
from studio.book.document_reads import document_pdf
from studio.book.document_values import DocumentDraft
from studio.book.documents import confirmable, issue_document, put_document_pdf, receivable, returnable
from studio.book.engine import session
from studio.book.errors import BookError, NotFound
from studio.book.idempotency import Answer
from studio.book.order_reads import order as read_order
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.papers.paper import Paper
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.documents_reading import (
    at_their_fields,
    read_giving_back,
    read_taking_in,
    typed_of,
)
from studio.web.errors import FieldErrors, in_words
from studio.web.issuing import Issue, printed_and_written
from studio.web.order_documents import CONFIRMATION, RECEIPT, RETURN
from studio.web.order_mends import costs_of
from studio.web.order_page import order_context
from studio.web.printing import printer_of
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right

router = APIRouter()

Maker = Annotated[Seat, requires(Right.QUOTE)]
Prepare = Callable[[Session], DocumentDraft]
_NOT_MADE = {
    CONFIRMATION: "No confirmation was made",
    RECEIPT: "No receipt was made",
    RETURN: "Nothing was given back",
}


@router.post("/orders/{number}/documents/confirmation", response_class=HTMLResponse)
async def confirm(request: Request, number: str, typed: Typed, seat: Maker) -> Response:
    """Make the confirmation of what is agreed; it stands with the order's papers."""

    def prepare(book: Session) -> DocumentDraft:
        return confirmable(book, number, now=seat.now)

    return await _made(request, seat, number, typed=typed, kind=CONFIRMATION, prepare=prepare)


@router.post("/orders/{number}/documents/receipt", response_class=HTMLResponse)
async def take_in(request: Request, number: str, typed: Typed, seat: Maker) -> Response:
    """Take goods of the customer's in, and make the receipt."""

    def prepare(book: Session) -> DocumentDraft:
        asked = read_taking_in(typed, read_order(book, number))
        return receivable(book, number, asked=asked, actor=seat.actor, now=seat.now)

    return await _made(request, seat, number, typed=typed, kind=RECEIPT, prepare=prepare)


@router.post("/orders/{number}/documents/return", response_class=HTMLResponse)
async def give_back(request: Request, number: str, typed: Typed, seat: Maker) -> Response:
    """Give goods of the customer's back, and make the receipt for it."""

    def prepare(book: Session) -> DocumentDraft:
        asked = read_giving_back(typed, read_order(book, number))
        return returnable(book, number, asked=asked, actor=seat.actor, now=seat.now)

    return await _made(request, seat, number, typed=typed, kind=RETURN, prepare=prepare)


@router.get("/documents/{number}.pdf", response_class=Response)
async def paper_of_document(request: Request, number: str, seat: Maker) -> Response:
    """The paper of a document, byte for byte as it was issued; one that is not made yet is made first."""
    try:
        pdf = await run_in_threadpool(_kept, seat, number)
    except DocumentPdfNotYet:
        to_print = await run_in_threadpool(_to_print, seat, number)
        fresh = await printer_of(request).pdf(to_print)
        pdf = await run_in_threadpool(_keep, seat, number, fresh)
    headers = {"Content-Disposition": f'inline; filename="{number}.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def issue_of(seat: Seat, prepare: Prepare, answer: Callable[[Session, str], Answer]) -> Issue[DocumentDraft]:
    """How a document is issued for who sits there; `answer` is given its number."""

    def write(book: Session, draft: DocumentDraft, pdf: bytes) -> Answer:
        issued = issue_document(book, draft=draft, pdf=pdf, actor=seat.actor, now=seat.now)
        return answer(book, issued.number)

    return Issue(prepare, document_to_print, write)


async def _made(
    request: Request,
    seat: Seat,
    number: str,
    *,
    typed: dict[str, object],
    kind: str,
    prepare: Prepare,
) -> Response:
    """Make a document and lead back to the order's papers, or bring the page again with what was typed."""
    issue = issue_of(seat, prepare, lambda _book, _made: Answer(303, "", f"/orders/{number}#papers"))
    key = typed.get("idempotency_key")
    try:
        return await printed_and_written(request, seat, number, issue, form_key=key)
    except NotFound:
        raise
    except (FieldErrors, Refused, BookError) as refused:
        return await run_in_threadpool(_again, request, seat, number, typed=typed, kind=kind, refused=refused)


def _again(
    request: Request,
    seat: Seat,
    number: str,
    *,
    typed: dict[str, object],
    kind: str,
    refused: FieldErrors | Refused | BookError,
) -> Response:
    """The order's page once more with why nothing was made, and everything as it was typed."""
    with session(seat.engine) as book:
        standing = read_order(book, number)
    fields = typed_of(typed, kind)
    if isinstance(refused, FieldErrors | Refused):
        found = refused.errors if isinstance(refused, FieldErrors) else in_words(refused)
        said, status = to_put_right(at_their_fields(found, kind), fields), 422
    else:
        why = declined(refused)
        said, status = Said(_NOT_MADE[kind], (why.errors[0].message,), typed=fields), why.status_code
        if why.errors[0].field is not None:
            said = to_put_right(at_their_fields(why.errors, kind), fields)
    context = order_context(standing, seat, said, costs_of(standing, seat))
    return page(request, "orders/order.html", context, place=Place.ORDERS, status=status)


def _kept(seat: Seat, number: str) -> bytes:
    with session(seat.engine) as book:
        return document_pdf(book, number)


def _to_print(seat: Seat, number: str) -> Paper:
    with session(seat.engine) as book:
        return issued_document_to_print(book, number)


def _keep(seat: Seat, number: str, paper: bytes) -> bytes:
    """What the book has of the paper from now on: `paper`, or what somebody else had made meanwhile."""
    with session(seat.engine) as book:
        put_document_pdf(book, number=number, pdf=paper, now=seat.now)
        return document_pdf(book, number)
