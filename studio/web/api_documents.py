"""The API's documents of an order: its confirmation, and the receipts for goods taken in and given back."""

from typing import Annotated, Any

from fastapi import APIRouter
from pydantic import WithJsonSchema
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.book.document_reads import document
from studio.book.document_values import MADE_ON_ASKING, DocumentDraft, DocumentKind
from studio.book.documents import confirmable, receivable, returnable
from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.studio import currency_of
from studio.craft.custody import LONGEST_CONDITION
from studio.craft.errors import Why
from studio.craft.goods import LONGEST_BAG, LONGEST_NOTE
from studio.craft.roles import Right
from studio.web.api_answers import as_text, document_out
from studio.web.api_fields import In, one_of, text_of
from studio.web.api_order_models import DocumentOut
from studio.web.bodies import ApiRoute
from studio.web.documents import issue_of
from studio.web.documents_reading import asked_giving_back, asked_taking_in, check_fields
from studio.web.issuing import printed_and_written
from studio.web.reading import Reading, read_choice, sure
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)

_LINE = {
    "type": "object",
    "properties": {"line": {"type": "string"}, "weight_g": {"type": ["number", "string", "null"]}},
    "required": ["line"],
    "additionalProperties": False,
}


class DocumentIn(In):
    """A document to make.

    A receipt takes `goods`, other goods in words with `weight_g`, their `condition` and `value` in the
    studio's currency, the number of the `bag` or seal, and `stones`, places such as "1/2" for the second
    stone of ring 1; left out, all that are not held yet. A return takes `goods`, a list of lines with what
    each weighs now, left out all that is held, and a `note`.
    """

    kind: Annotated[Any, one_of(*MADE_ON_ASKING)] = None
    goods: Annotated[
        Any,
        WithJsonSchema(
            {"anyOf": [{"type": ["string", "null"], "maxLength": 500}, {"type": "array", "items": _LINE}]}
        ),
    ] = None
    weight_g: Annotated[Any, WithJsonSchema({"type": ["number", "string", "null"]})] = None
    condition: Annotated[Any, text_of(LONGEST_CONDITION)] = None
    value: Annotated[Any, WithJsonSchema({"type": ["number", "string", "null"]})] = None
    bag: Annotated[Any, text_of(LONGEST_BAG)] = None
    stones: Annotated[Any, WithJsonSchema({"type": ["array", "null"], "items": {"type": "string"}})] = None
    note: Annotated[Any, text_of(LONGEST_NOTE)] = None


@router.post("/api/orders/{number}/documents", status_code=201, response_model=DocumentOut)
async def made(
    request: Request, number: str, seat: Annotated[Seat, requires(Right.QUOTE)], body: DocumentIn
) -> Response:
    """Make a document of the order: a new one each time, those of before stay. 409 says what it waits for."""
    asked = Reading(body.fields(), "")
    kind = asked.needed("kind", lambda value, field: read_choice(value, field, DocumentKind), "kind")
    if kind is DocumentKind.PAYMENT:
        asked.refuse("kind", Why.UNKNOWN_CHOICE, kind)
    asked.stop()
    check_fields(asked, sure(kind))
    taking_in, giving_back = None, None
    if kind is DocumentKind.RECEIPT:
        taking_in = asked_taking_in(asked, await run_in_threadpool(_currency, seat))
    elif kind is DocumentKind.RETURN:
        giving_back = asked_giving_back(asked)
    asked.stop()

    def prepare(book: Session) -> DocumentDraft:
        if taking_in is not None:
            return receivable(book, number, asked=taking_in, actor=seat.actor, now=seat.now)
        if giving_back is not None:
            return returnable(book, number, asked=giving_back, actor=seat.actor, now=seat.now)
        return confirmable(book, number, now=seat.now)

    def answer(book: Session, made_number: str) -> Answer:
        told = document_out(document(book, made_number))
        return Answer(201, as_text(told), told.pdf)

    return await printed_and_written(request, seat, number, issue_of(seat, prepare, answer))


def _currency(seat: Seat) -> str:
    with session(seat.engine) as book:
        return currency_of(book)
