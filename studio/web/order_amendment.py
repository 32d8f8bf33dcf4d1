"""Amending an agreed order: begun from its page, its rings changed at the counter, issued, withdrawn."""

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from studio.book.agreed_errors import NothingAmended
from studio.book.amendments import amendable, amended_rings, amending_of, put_amending, withdraw_amendment
from studio.book.engine import session
from studio.book.errors import BookBusy, BookError, NoAgreement, NotQuotable, VersionStale
from studio.book.idempotency import Answer
from studio.book.order_values import Amending, Order
from studio.book.orders import order as read_order
from studio.book.quotes import Quote, QuoteDraft
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.web.amendment_page import FIELDS, amendment_page, read_amending
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.counter_again import KEEPS, brought_again
from studio.web.counter_desk import shown
from studio.web.counter_form import CounterForm, flat
from studio.web.counter_keeping import kept
from studio.web.counter_standing import AMENDMENT, standing_of
from studio.web.counter_stored import ring_form, with_what_is_the_orders
from studio.web.errors import FieldError, FieldErrors, in_words
from studio.web.issuing import issued_by
from studio.web.once import do_once
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts

router = APIRouter()

Quoter = Annotated[Seat, requires(Right.QUOTE)]


@router.get("/orders/{number}/amendment", response_class=HTMLResponse)
def amendment(request: Request, seat: Quoter, number: str) -> Response:
    """The amendment as it is put together, and what it comes to; without one the order's page."""
    return _shown(request, seat, number)


@router.post("/orders/{number}/amendment")
def begin(request: Request, seat: Quoter, number: str, typed: Typed) -> Response:
    """Begin an amendment, as the order stands, and lead to its page."""

    def work(book: Session) -> Answer:
        found = read_order(book, number)
        if found.amending is None:
            _put(book, seat, found, amending_of(found), read_id(typed.get("version"), "version"))
        return Answer(303, "", f"/orders/{number}/amendment")

    return _once(request, seat, typed, work)


@router.post("/orders/{number}/amendment/terms", response_class=HTMLResponse)
def terms(request: Request, seat: Quoter, number: str, typed: Typed) -> Response:
    """Keep the days, words and charge, and show what it comes to; or go on to one of its rings."""
    ring = str(typed.get("ring") or "")
    where = f"/orders/{number}/amendment" + (f"/rings/{ring}" if ring.isdecimal() and len(ring) < 4 else "")

    def work(book: Session) -> Answer:
        found = read_order(book, number)
        changed, _ = _typed(found, seat, typed)
        _put(book, seat, found, changed, read_id(typed.get("version"), "version"))
        return Answer(303, "", where)

    try:
        return _once(request, seat, typed, work)
    except (FieldErrors, Refused, VersionStale, NothingAmended, NoAgreement) as refused:
        return _again(request, seat, number, typed, refused)


@router.post("/orders/{number}/amendments", response_class=HTMLResponse)
async def make(request: Request, seat: Quoter, number: str, typed: Typed) -> Response:
    """Make the amendment with its paper, and lead to its page, where the yes is noted."""

    def prepare(book: Session) -> QuoteDraft:
        found = read_order(book, number)
        seen = read_id(typed.get("version"), "version")
        if seen != found.version:  # what is issued is what was read here
            raise VersionStale(number, seen, found.version)
        changed, days = _typed(found, seat, typed)
        return amendable(book, number, amending=changed, valid_days=days, actor=seat.actor, now=seat.now)

    key = typed.get("idempotency_key")
    try:
        return await issued_by(request, seat, number, prepare, _made, form_key=key)
    except (
        FieldErrors,
        Refused,
        NotQuotable,
        NothingAmended,
        NoAgreement,
        BookBusy,
        VersionStale,
    ) as refused:
        return await run_in_threadpool(_again, request, seat, number, typed, refused)


@router.post("/orders/{number}/amendment/end")
def end(request: Request, seat: Quoter, number: str, typed: Typed) -> Response:
    """Let go of the amendment that was being put together."""

    def work(book: Session) -> Answer:
        _put(book, seat, read_order(book, number), None, read_id(typed.get("version"), "version"))
        return Answer(303, "", f"/orders/{number}")

    return _once(request, seat, typed, work)


@router.post("/quotes/{number}/withdrawal")
def withdraw(request: Request, seat: Quoter, number: str, typed: Typed) -> Response:
    """An amendment that was not agreed no longer waits for its answer."""

    def work(book: Session) -> Answer:
        done = withdraw_amendment(book, number=number, actor=seat.actor, now=seat.now)
        return Answer(303, "", f"/orders/{done.number}")

    return _once(request, seat, typed, work)


@router.get("/orders/{number}/amendment/rings/{position}")
def amended_ring(request: Request, seat: Quoter, number: str, position: str) -> Response:
    """The counter's page for one ring as the amendment would have it."""
    with session(seat.engine) as book:
        standing = standing_of(book, number, position, AMENDMENT)
    return shown(request, seat, ring_form(standing.order, standing.ring, seat.zone), standing)


@router.post("/orders/{number}/amendment/rings/{position}")
def change_amended_ring(
    request: Request, seat: Quoter, number: str, position: str, fields: Typed
) -> Response:
    """Keep the ring for the amendment, or bring the page again."""
    form = CounterForm(flat(fields))
    with session(seat.engine) as book:
        standing = standing_of(book, number, position, AMENDMENT)
    form = with_what_is_the_orders(form, standing, seat.zone)
    if form.value("act") not in KEEPS:
        return brought_again(request, seat, form, standing)
    return kept(request, seat, form, standing)


def _typed(found: Order, seat: Seat, typed: dict[str, object]) -> tuple[Amending, int | None]:
    if found.agreement is None:
        raise NoAgreement(found.number)
    return read_amending(typed, found.amending or amending_of(found), seat, found.agreement.currency)


def _put(book: Session, seat: Seat, found: Order, amending: Amending | None, version: int) -> None:
    put_amending(
        book, number=found.number, version=version, amending=amending, actor=seat.actor, now=seat.now
    )


def _made(found: Quote) -> Answer:
    return Answer(303, "", f"/quotes/{found.number}")


def _once(
    request: Request, seat: Seat, typed: dict[str, object], work: Callable[[Session], Answer]
) -> Response:
    with session(seat.engine) as book:
        return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))


_AT_ITS_FIELD = {"charge_minor": "charge"}


def _again(
    request: Request,
    seat: Seat,
    number: str,
    typed: dict[str, object],
    refused: FieldErrors | Refused | BookError,
) -> Response:
    """The page once more with why it was not kept, and everything as it was typed."""
    fields = typed_texts(typed, *FIELDS)
    if isinstance(refused, FieldErrors):
        return _shown(request, seat, number, to_put_right(refused.errors, fields), 422)
    if isinstance(refused, Refused):
        errors = [
            FieldError(_AT_ITS_FIELD.get(one.field or "", one.field), one.message)
            for one in in_words(refused)
        ]
        return _shown(request, seat, number, to_put_right(errors, fields), 422)
    if isinstance(refused, VersionStale):
        words = "Somebody else changed this order meanwhile. What you typed still stands; send it again."
        return _shown(request, seat, number, Said("Nothing was kept yet", (words,), typed=fields), 409)
    why = declined(refused)
    said = Said("No amendment was made", (why.errors[0].message,), typed=fields)
    return _shown(request, seat, number, said, why.status_code)


def _shown(
    request: Request, seat: Seat, number: str, said: Said | None = None, status: int = 200
) -> Response:
    told = said or Said()
    with session(seat.engine) as book:
        found = read_order(book, number)
        if found.amending is None:
            return RedirectResponse(f"/orders/{number}", status_code=303)
        draft, waits = _draft(book, seat, found, told)
        rings = amended_rings(book, found)
    context = amendment_page(
        found,
        seat,
        draft=draft,
        waits=waits,
        rings=rings,
        said=told,
    )
    return page(request, "amendments/page.html", context, place=Place.ORDERS, status=status)


def _draft(book: Session, seat: Seat, found: Order, said: Said) -> tuple[QuoteDraft | None, tuple[str, ...]]:
    """The amendment as it would be issued, with what was typed where that can stand; or why there is none."""
    amending = found.amending
    if amending is None:
        return None, ()
    try:
        if said.typed:
            amending, _ = _typed(found, seat, dict(said.typed))
    except FieldErrors:
        amending = found.amending or amending
    try:
        return amendable(book, found.number, amending=amending, actor=seat.actor, now=seat.now), ()
    except NotQuotable as waits:
        return None, waits.missing
    except (NothingAmended, Refused):
        return None, ()
