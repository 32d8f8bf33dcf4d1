"""The API's amendments: issuing one to an agreed order, and withdrawing one that nobody said yes to."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from studio.book.amendments import amendable, amending_of, withdraw_amendment
from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.order_values import Amending, Order
from studio.book.orders import order
from studio.book.quotes import Quote, QuoteDraft
from studio.book.ring_practices import workshop
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.roles import Right
from studio.web.amendment_page import LONGEST_CHARGE, LONGEST_WORDS
from studio.web.amounts import read_count, read_minor
from studio.web.api_answers import as_text
from studio.web.api_models import AmendmentIn
from studio.web.api_order_models import MovedOut
from studio.web.api_quote_answers import pdf_path, quote_out
from studio.web.api_quote_models import QuoteOut
from studio.web.bodies import ApiRoute
from studio.web.forms import Calendar, long_text, read_rings, read_terms
from studio.web.issuing import issued_by
from studio.web.once import do_once
from studio.web.reading import Reading
from studio.web.security import Seat, requires
from studio.web.studio_rates import MOST_DAYS, MOST_MINUTES
from studio.web.texts import read_text

router = APIRouter(route_class=ApiRoute)

Quoter = Annotated[Seat, requires(Right.QUOTE)]
_DAYS = ("wanted_on", "wanted_hard", "promised_at")


@router.post("/api/orders/{number}/amendments", status_code=201, response_model=QuoteOut)
async def amended(request: Request, number: str, seat: Quoter, body: AmendmentIn) -> Response:
    """Issue an amendment to what was agreed; what is left out stays. The yes is that of a quote.

    409 where the order is not agreed, and where nothing would change.
    """

    def prepare(book: Session) -> QuoteDraft:
        found = order(book, number)
        amending, days, minutes = _read(body.fields(), book, seat, found)
        return amendable(
            book,
            number,
            amending=amending,
            valid_days=days,
            minutes=minutes,
            actor=seat.actor,
            now=seat.now,
        )

    return await issued_by(request, seat, number, prepare, _answer)


@router.post("/api/quotes/{number}/withdrawal", response_model=MovedOut)
def withdrawn(request: Request, number: str, seat: Quoter) -> Response:
    """An amendment that nobody said yes to no longer waits for its answer."""

    def work() -> Answer:
        done = withdraw_amendment(book, number=number, actor=seat.actor, now=seat.now)
        return Answer(200, as_text(MovedOut(state=done.state, version=done.version)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


def _read(
    raw: Mapping[str, Any], book: Session, seat: Seat, found: Order
) -> tuple[Amending, int | None, dict[int, int]]:
    asked = Reading(raw, "")
    calendar = Calendar(seat.today, seat.zone, is_exact=True)
    begun = amending_of(found)
    terms = asked.found.take(lambda: read_terms(asked.raw, calendar))
    changes: dict[str, Any] = {}
    if terms is not None:
        changes |= {name: getattr(terms, name) for name in _DAYS if name in asked.raw}
    if asked.has("rings"):
        here = workshop(book, seat.today, found)
        changes["rings"] = asked.found.take(
            lambda: tuple(read_rings(asked.raw["rings"], calendar, usual_system=None, workshop=here))
        )
    if asked.has("words"):
        changes["words"] = asked.read("words", long_text(LONGEST_WORDS))
    if asked.has("charge_text"):
        changes["charge_text"] = asked.read(
            "charge_text", lambda value, field: read_text(value, field, longest=LONGEST_CHARGE)
        )
    if asked.has("charge_minor"):
        changes["charge_minor"] = asked.read("charge_minor", read_minor)
    days = (
        asked.read("valid_days", read_count(1, MOST_DAYS, "day", "days")) if asked.has("valid_days") else None
    )
    minutes = _minutes(asked, found, len(changes.get("rings") or found.rings))
    asked.stop()
    return replace(begun, **changes), days, minutes


def _minutes(asked: Reading, found: Order, count: int) -> dict[int, int]:
    """The minutes typed by ring, '2026-118/1', of as many rings as the amendment has."""
    told = Reading(asked.raw.get("minutes") or {}, "minutes")
    reader = read_count(0, MOST_MINUTES, "minute", "minutes")
    places = {f"{found.number}/{place}": place for place in range(1, count + 1)}
    unknown = [name for name in told.raw if name not in places]
    if unknown:
        raise Refused(Refusal(f"minutes.{unknown[0][:40]}", Why.UNKNOWN_CHOICE, unknown[0][:24]))
    typed = {places[name]: told.read(name, reader) for name in told.raw if told.has(name)}
    asked.found.errors += told.found.errors
    return {place: count for place, count in typed.items() if count is not None}


def _answer(found: Quote) -> Answer:
    return Answer(201, as_text(quote_out(found)), pdf_path(found.number))
