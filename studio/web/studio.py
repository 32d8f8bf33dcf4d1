"""The Studio page: metal prices, rates and minutes, and what the papers say. The owner alone opens it."""

import re
from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.audit import latest
from studio.book.engine import session
from studio.book.errors import VersionStale
from studio.book.idempotency import Answer
from studio.book.mendings import made_twice
from studio.book.price_history import metal_price_history
from studio.book.rates import (
    add_metal_price,
    add_metal_prices,
    metal_price_entries,
    put_rates,
    rates_entry,
    read_metal_prices_csv,
    stale,
)
from studio.book.studio import change_studio, studio
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.errors import FieldError, FieldErrors, in_words
from studio.web.forms import Calendar
from studio.web.once import do_once
from studio.web.price_reading import list_errors, read_metal_price
from studio.web.reading import read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, both_versions, to_put_right, typed_texts
from studio.web.studio_facts import FACTS_WORDS, facts_texts, read_facts, with_usual_words
from studio.web.studio_page import asked_for, studio_context
from studio.web.studio_prices import ENTRY_FIELDS, History, prices_part
from studio.web.studio_rates import field_words, rates_texts, read_rates
from studio.web.studio_twice import a_year_before, twice_lines
from studio.web.wording import hour_words

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_RATES)]
LISTED = 30
"""Prices a page of their history shows."""
_NOTHING = Said()
_ORDER = re.compile(r"[0-9]{4}-[0-9]{1,9}")


@router.get("/studio", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page. `?prices=` turns the history of the metal prices, `?for=2026-118` leads back."""
    return _page(request, seat, after=_after(request.query_params.get("prices", "")))


@router.post("/studio/prices", response_class=HTMLResponse)
def put_price(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Put in one metal's price."""

    def work(book: Session) -> str:
        price = read_metal_price(typed, Calendar(seat.today, seat.zone))
        add_metal_price(book, price=price, actor=seat.actor, now=seat.now)
        return f"{_back(request)}#prices"

    return _kept(request, seat, typed, work, typed_texts(typed, *ENTRY_FIELDS))


@router.post("/studio/prices/list", response_class=HTMLResponse)
def put_prices(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Put in a pasted list of prices, all of it or nothing."""
    texts = typed_texts(typed, "list")

    def work(book: Session) -> str:
        prices = read_metal_prices_csv(texts["list"])
        add_metal_prices(book, prices=prices, actor=seat.actor, now=seat.now)
        return f"{_back(request)}#prices"

    try:
        return _once(request, seat, typed, work)
    except Refused as refused:
        found = [FieldError("list", words) for words in list_errors(refused, texts["list"])]
        return _page(request, seat, to_put_right(found, texts), 422)


@router.post("/studio/rates", response_class=HTMLResponse)
def put_new_rates(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Let the rates and minutes as typed count from today on."""

    def work(book: Session) -> str:
        rates = read_rates(typed, studio(book).currency)
        version = read_id(typed.get("since"), "since")
        put_rates(book, rates=rates, version=version, actor=seat.actor, now=seat.now)
        return f"{_back(request)}#rates"

    texts = _rates_typed(typed)
    try:
        return _kept(request, seat, typed, work, texts)
    except VersionStale:
        with session(seat.engine) as book:
            entry = rates_entry(book, seat.today)
        stands = {} if entry is None else rates_texts(entry.rates)
        return _page(request, seat, _meanwhile("put in rates", field_words(), texts, stands), 409)


@router.post("/studio/facts", response_class=HTMLResponse)
def put_facts(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Put what the papers say, as typed, in the place of what stood; or offer words to begin with."""

    def work(book: Session) -> str:
        facts = read_facts(typed, studio(book), seat.today)
        change_studio(book, facts=facts, actor=seat.actor, now=seat.now)
        return f"{_back(request)}#papers"

    texts = typed_texts(typed, *FACTS_WORDS)
    if typed.get("act") == "usual":
        try:
            return _page(request, seat, with_usual_words(texts))
        except FieldErrors as found:
            return _page(request, seat, to_put_right(found.errors, texts), 422)
    try:
        return _kept(request, seat, typed, work, texts)
    except VersionStale:
        with session(seat.engine) as book:
            stands = facts_texts(studio(book))
        return _page(request, seat, _meanwhile("changed this", FACTS_WORDS, texts, stands), 409)


def _kept(
    request: Request,
    seat: Seat,
    typed: dict[str, object],
    work: Callable[[Session], str],
    texts: dict[str, str],
) -> Response:
    """What `work` leads to; or the page again, with what was typed and what is to be put right."""
    try:
        return _once(request, seat, typed, work)
    except FieldErrors as found:
        return _page(request, seat, to_put_right(found.errors, texts), 422)
    except Refused as refused:
        return _page(request, seat, to_put_right(in_words(refused), texts), 422)


def _once(request: Request, seat: Seat, typed: dict[str, object], work: Callable[[Session], str]) -> Response:
    with session(seat.engine) as book:
        return do_once(
            request,
            seat,
            book,
            lambda: Answer(303, "", work(book)),
            form_key=typed.get("idempotency_key"),
        )


def _page(
    request: Request,
    seat: Seat,
    said: Said = _NOTHING,
    status: int = 200,
    *,
    after: str | None = None,
) -> HTMLResponse:
    with session(seat.engine) as book:
        facts = studio(book)
        rates = rates_entry(book, seat.today)
        counted = metal_price_entries(book, seat.today)
        found = metal_price_history(book, after=after, limit=LISTED)
        changed = latest(book, "change the studio")
        twice = made_twice(book, since=a_year_before(seat.now))
    old = (
        frozenset[str]()
        if rates is None
        else frozenset(
            price.metal
            for price in stale({m: entry.price for m, entry in counted.items()}, seat.today, rates.rates)
        )
    )
    history = History(found.items, found.next, is_asked_for=after is not None)
    prices = prices_part(seat, counted, old, history=history, said=said)
    facts_since = (
        ""
        if changed is None
        else f"Since {hour_words(changed.at, seat.zone, seat.today)}, put in by {changed.actor}"
    )
    context = studio_context(
        seat,
        facts=facts,
        facts_since=facts_since,
        rates=rates,
        prices=prices,
        said=said,
        came_from=_came_from(request),
        twice=twice_lines(twice, facts.currency),
    )
    return page(request, "studio/page.html", context, place=Place.STUDIO, status=status)


def _meanwhile(did: str, names: dict[str, str], texts: dict[str, str], stands: dict[str, str]) -> Said:
    """Somebody else was quicker: both versions, nothing lost."""
    return Said(
        heading=f"Somebody else {did} meanwhile",
        sentences=(
            "Nothing of yours was saved yet. What you typed still stands below; save it again to keep it.",
        ),
        versions=both_versions(names, texts, {name: stands.get(name, "") for name in texts}),
        typed=texts,
    )


def _rates_typed(typed: dict[str, object]) -> dict[str, str]:
    """The fields of the rates as they were typed, by their names in the form."""
    texts: dict[str, str] = {}
    for name in field_words():
        group, _, inner = name.rpartition(".")
        place = typed.get(group) if group else typed
        texts[name] = typed_texts(place, inner)[inner] if isinstance(place, dict) else ""
    return texts


def _came_from(request: Request) -> str:
    """The number of the order whose quote waits for this page; what is no number is none."""
    asked = request.query_params.get("for", "")
    return asked if _ORDER.fullmatch(asked) else ""


def _back(request: Request) -> str:
    """The address of the page, which still knows which order waits for it."""
    return f"/studio{asked_for(_came_from(request))}"


def _after(asked: str) -> str | None:
    """Where the history goes on; what names no place in it is its beginning."""
    return asked if asked.isascii() and asked.isdigit() and len(asked) <= 12 else None
