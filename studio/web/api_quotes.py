"""The API's quotes: issuing one, and the yes to it."""

from collections.abc import Callable, Mapping
from typing import Annotated, TypeVar

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.payment_values import Sum
from studio.book.quotes import Quote, QuoteTerms, agree
from studio.craft.payments import LONGEST_REFERENCE, Method
from studio.craft.roles import Right
from studio.web.amounts import read_count, read_minor, read_percent
from studio.web.api_answers import as_text
from studio.web.api_quote_answers import pdf_path, quote_out
from studio.web.api_quote_models import AgreedOut, AgreementIn, QuoteIn, QuoteOut
from studio.web.bodies import ApiRoute
from studio.web.forms import LONGEST_REASON, long_text
from studio.web.issuing import issued
from studio.web.once import do_once
from studio.web.reading import Reading
from studio.web.security import Seat, requires
from studio.web.studio_rates import MOST_DAYS, MOST_MINUTES
from studio.web.texts import read_name, read_word

router = APIRouter(route_class=ApiRoute)

T = TypeVar("T")


@router.post("/api/orders/{number}/quotes", status_code=201, response_model=QuoteOut)
async def quoted(
    request: Request, number: str, seat: Annotated[Seat, requires(Right.QUOTE)], body: QuoteIn
) -> Response:
    """Issue a quote of the order; it takes the place of one that stands. 409 says what is missing."""
    terms = read_quote_terms(body.fields())
    return await issued(request, seat, number, terms, _answer)


@router.post("/api/quotes/{number}/agreement", status_code=201, response_model=AgreedOut)
def agreed(
    request: Request, number: str, seat: Annotated[Seat, requires(Right.AGREE)], body: AgreementIn
) -> Response:
    """Note the yes to a quote. One that has run out wants a `reason`; a superseded one is 409."""
    asked = Reading(body.fields(), "")
    name = asked.needed("name", read_name, "name")
    variant = asked.read("variant", read_word)
    deposit = asked.read("deposit_minor", _optional(read_minor))
    method = asked.choice("deposit_method", Method)
    reference = asked.read("deposit_reference", long_text(LONGEST_REFERENCE))
    without = asked.read("without_deposit", long_text(LONGEST_REASON))
    reason = asked.read("reason", long_text(LONGEST_REASON))
    asked.stop()

    def work() -> Answer:
        order = agree(
            book,
            quote=number,
            name=name or "",
            variant=variant or None,
            deposit=Sum(deposit, method or Method.NOT_SAID, reference or "") if deposit is not None else None,
            without_deposit=without or None,
            reason=reason or None,
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(201, as_text(AgreedOut(order=order.number, state=order.state)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


def read_quote_terms(raw: Mapping[str, object]) -> QuoteTerms:
    """What a quote says otherwise than the rates: days, deposit, minutes by ring ('2026-118/1')."""
    asked = Reading(raw, "")
    days = asked.read("valid_days", _optional(read_count(1, MOST_DAYS, "day", "days")))
    deposit = asked.read("deposit_percent", _optional(read_percent(100)))
    minutes = Reading(asked.raw.get("minutes"), "minutes")
    reader = read_count(0, MOST_MINUTES, "minute", "minutes")
    typed = {name: minutes.read(name, reader) for name in minutes.raw if minutes.has(name)}
    asked.found.errors += minutes.found.errors
    asked.stop()
    given = {name: count for name, count in typed.items() if count is not None}
    return QuoteTerms(valid_days=days, deposit_percent=deposit, minutes=given)


def _optional(reader: Callable[[object, str], T]) -> Callable[[object, str], T | None]:
    return lambda value, field: None if value is None else reader(value, field)


def _answer(issued_quote: Quote) -> Answer:
    return Answer(201, as_text(quote_out(issued_quote)), pdf_path(issued_quote.number))
