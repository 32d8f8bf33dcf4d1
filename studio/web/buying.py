"""The buying list: looked at, taken along as CSV, ordered, received and called off."""

from collections.abc import Callable, Mapping
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.buying_errors import BoughtMeanwhile, NotOnItsWay
from studio.book.engine import session
from studio.book.errors import VersionStale
from studio.book.idempotency import Answer
from studio.book.pieces import LONGEST_LOT, LONGEST_PLACE
from studio.book.purchases import Wanted, call_off_metal, order_metal, receive_metal
from studio.book.studio import currency_of
from studio.craft.buying import ToBuy
from studio.craft.drawer import LENGTH_MM, MASS_G
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.web.amounts import read_amount
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.buying_csv import buying_csv
from studio.web.buying_page import HREF, WORDS, buying_page, by_supplier, proposal_of
from studio.web.buying_reading import Buying, buying
from studio.web.errors import Declined, FieldErrors, in_words
from studio.web.once import do_once, done_before
from studio.web.reading import Reading, read_id
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]


@router.get("/metal/buying", response_class=HTMLResponse)
async def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page."""
    found = await buying(request, seat)
    return await run_in_threadpool(buying_page, request, seat, found)


@router.get("/metal/buying.csv", response_class=Response)
async def listed(request: Request, seat: Keeper) -> Response:
    """The list as CSV."""
    found = await buying(request, seat)
    told = buying_csv(found, sees_cost=seat.may(Right.SEE_COST))
    headers = {"Content-Disposition": f'attachment; filename="buying-{seat.today.isoformat()}.csv"'}
    return Response(told, media_type="text/csv; charset=utf-8", headers=headers)


@router.post("/metal/purchases", response_class=HTMLResponse)
async def order(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Note as ordered what the list proposes of one supplier, of the lines that are ticked."""
    found = await buying(request, seat)
    return await run_in_threadpool(_ordered, request, seat, typed, found)


def _ordered(request: Request, seat: Seat, typed: Mapping[str, object], found: Buying) -> Response:
    key = typed.get("idempotency_key")
    supplier = str(typed.get("supplier", ""))
    place = str(typed.get("place", ""))
    lines = by_supplier(found.lines).get(supplier, [])
    taken = [one for at, one in enumerate(lines) if typed.get(f"take-{place}-{at}") == "yes"]
    with session(seat.engine) as book:
        done = done_before(request, seat, book, form_key=key)
        if done is not None:
            return done
        if typed.get("proposal") != proposal_of(lines):
            heading = "The list changed meanwhile: nothing was noted as ordered. Look at it again."
            return buying_page(request, seat, found, Said(heading=heading), 409)
        if not taken:
            heading = "Nothing is ticked that could be ordered."
            return buying_page(request, seat, found, Said(heading=heading), 422)

        def work() -> Answer:
            wanted = [thing for one in taken for thing in _wanted(one, found)]
            seen = read_id(typed.get("seen"), "seen")
            order_metal(book, supplier=supplier, wanted=wanted, seen=seen, actor=seat.actor, now=seat.now)
            return Answer(303, "", HREF)

        try:
            return do_once(request, seat, book, work, form_key=key)
        except BoughtMeanwhile as refused:
            return buying_page(request, seat, found, Said(heading=declined(refused).errors[0].message), 409)


def _wanted(line: ToBuy, found: Buying) -> list[Wanted]:
    """The things of a line; its cost, which may be the supplier's least, goes by their grams."""
    cost, left = found.hand.cost_minor(line), line.mass_mg
    made = []
    for one in line.things:
        share = None if cost is None else cost * one.mass_mg // left
        cost, left = None if cost is None or share is None else cost - share, left - one.mass_mg
        rings = tuple(blank.ring for blank in line.blanks)
        made.append(Wanted(line.supply_id or 0, one.length_um, one.width_um, rings, share))
    return made


@router.post("/metal/purchases/{purchase_id}/lines/{line_id}/arrival", response_class=HTMLResponse)
async def arrived(request: Request, seat: Keeper, typed: Typed, purchase_id: int, line_id: int) -> Response:
    """One thing arrived: it goes into the drawer."""
    texts = typed_texts({name: typed.get(f"{name}-{line_id}") for name in WORDS}, *WORDS)

    def work(book: Session) -> None:
        asked = Reading(texts, "")
        mass, length = asked.number("mass", MASS_G, "g"), asked.length("length", LENGTH_MM, gauge=None)
        lot = asked.read("lot", lambda value, field: read_text(value, field, longest=LONGEST_LOT))
        place = asked.read("place", lambda value, field: read_text(value, field, longest=LONGEST_PLACE))
        paid = None
        if seat.may(Right.SEE_COST):
            amount = read_amount(currency_of(book))
            paid = asked.read("paid", lambda value, field: None if value is None else amount(value, field))
        is_sure = bool(asked.yes("is_sure"))
        asked.stop()
        receive_metal(
            book,
            purchase_id=purchase_id,
            line_id=line_id,
            mass_g=mass,
            length_mm=length,
            lot=lot or "",
            paid_minor=paid,
            place=place or "",
            is_sure=is_sure,
            actor=seat.actor,
            now=seat.now,
        )

    return await _done(request, seat, typed, work, texts=texts, key=str(line_id))


@router.post("/metal/purchases/{purchase_id}/off", response_class=HTMLResponse)
async def off(request: Request, seat: Keeper, typed: Typed, purchase_id: int) -> Response:
    """Call off what has not arrived of a purchase."""

    def work(book: Session) -> None:
        version = read_id(typed.get("version"), "version")
        call_off_metal(book, purchase_id=purchase_id, version=version, actor=seat.actor, now=seat.now)

    return await _done(request, seat, typed, work, texts={}, key="")


async def _done(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    work: Callable[[Session], None],
    *,
    texts: dict[str, str],
    key: str,
) -> Response:
    """Do the work once and go back to the page, or show it with what is to be put right."""

    def at_once() -> Response | tuple[Said, int]:
        def once(book: Session) -> Answer:
            work(book)
            return Answer(303, "", HREF)

        try:
            with session(seat.engine) as book:
                form_key = typed.get("idempotency_key")
                return do_once(request, seat, book, lambda: once(book), form_key=form_key)
        except FieldErrors as found:
            return to_put_right(found.errors, texts), 422
        except Refused as refused:
            return to_put_right(in_words(refused), texts), 422
        except (VersionStale, NotOnItsWay) as refused:
            told: Declined = declined(refused)
            return Said(heading=told.errors[0].message), 409

    done = await run_in_threadpool(at_once)
    if isinstance(done, Response):
        return done
    said, status = done
    found = await buying(request, seat)
    return await run_in_threadpool(lambda: buying_page(request, seat, found, said, status, key=key))
