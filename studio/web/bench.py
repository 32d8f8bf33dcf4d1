"""One ring at the bench over HTTP: the page, and what a maker does there."""

from enum import StrEnum
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.bench_work import (
    LONGEST_REASON,
    Deed,
    RingAtBench,
    do_at_bench,
    ring_at_bench,
)
from studio.book.bench_work_errors import BenchStale, StepRefused
from studio.book.engine import session
from studio.book.errors import MoveRefused, VersionStale
from studio.book.idempotency import Answer
from studio.book.orders import move_order
from studio.book.places import put_down
from studio.book.whereabouts_errors import ThingOut
from studio.craft.bench_figures import LIMITS, LONGEST_MINUTES, Measures, measures
from studio.craft.bench_work import What
from studio.craft.designs import Limits
from studio.craft.errors import Refused
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.web.bench_page import FIELDS, place_of, read_bench_page
from studio.web.bench_words import meanwhile_words
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import Declined, FieldError, FieldErrors, in_words
from studio.web.once import do_once
from studio.web.reading import Reading, read_id
from studio.web.render import page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right, typed_texts
from studio.web.texts import read_text
from studio.web.whereabouts_answers import out_words

router = APIRouter()

Bench = Annotated[Seat, requires(Right.MOVE_ORDERS, is_bench_work=True)]


class Act(StrEnum):
    """What a button of the page does."""

    DONE = "done"
    START = "start"
    PAUSE = "pause"
    NOTE = "note"
    OPEN = "open"
    UNDO = "undo"


class To(StrEnum):
    """Where the bench itself moves an order to."""

    BENCH = State.AT_THE_BENCH.value
    READY = State.READY.value


_WHAT = {
    Act.DONE: What.DONE,
    Act.START: What.STARTED,
    Act.PAUSE: What.STOPPED,
    Act.NOTE: What.NOTED,
    Act.OPEN: What.REOPENED,
    Act.UNDO: What.UNDONE,
}
_STAYS = frozenset({Act.START, Act.PAUSE, Act.NOTE})
"""After these the page shows the same step again; after the others the one that is done next."""


@router.get("/bench/{number}/{position}", response_class=HTMLResponse)
def shown(request: Request, seat: Bench, number: str, position: str, step: str = "") -> HTMLResponse:
    """The ring as it stands, with one step of its route large."""
    return _page(request, seat, number, position, step)


@router.post("/bench/{number}/{position}", response_class=HTMLResponse)
def done(request: Request, seat: Bench, number: str, position: str, typed: Typed) -> Response:
    """Write down what was done: a tick, a figure, the clock, or the last thing taken back."""
    texts = typed_texts(typed, *FIELDS)
    key = str(typed.get("step", ""))
    place = place_of(number, position)

    def work(book: Session) -> Answer:
        deed, act = _deed(typed, ring_at_bench(book, number, place))
        do_at_bench(
            book,
            number=number,
            position=place,
            deed=deed,
            version=read_id(typed.get("version"), "version"),
            actor=seat.actor,
            now=seat.now,
        )
        stays = f"?step={key}" if act in _STAYS else ""
        return Answer(303, "", f"/bench/{number}/{place}{stays}")

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        said = to_put_right(found.errors, texts)
        return _page(request, seat, number, position, key, said=said, status=422)
    except Refused as refused:
        said = to_put_right(in_words(refused), texts)
        return _page(request, seat, number, position, key, said=said, status=422)
    except BenchStale as stale:
        with session(seat.engine) as book:
            told = meanwhile_words(stale.meanwhile, ring_at_bench(book, number, place), seat)
        said = _not_saved("This ring has moved on", told, texts)
        return _page(request, seat, number, position, key, said=said, status=409)
    except ThingOut as refused:
        said = _not_saved("This ring is out of the house", (out_words(refused),), texts)
        return _page(request, seat, number, position, key, said=said, status=409)
    except StepRefused as refused:
        said = _not_saved("This ring has moved on", (declined(refused).errors[0].message,), texts)
        return _page(request, seat, number, position, key, said=said, status=409)


@router.post("/bench/{number}/{position}/place", response_class=HTMLResponse)
def put(request: Request, seat: Bench, number: str, position: str, typed: Typed) -> Response:
    """The ring lies in the chosen place from now on."""
    place = place_of(number, position)

    def work(book: Session) -> Answer:
        chosen = str(typed.get("place", ""))
        if not chosen:
            raise FieldErrors([FieldError("place", "Choose the place first, then press again.")])
        place_id = read_id(chosen, "place")
        thing = f"{number}/{place}"
        put_down(book, number=number, thing=thing, place_id=place_id, actor=seat.actor, now=seat.now)
        return Answer(303, "", f"/bench/{number}/{place}")

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        said = to_put_right(found.errors, {})
        return _page(request, seat, number, position, "", said=said, status=422)
    except ThingOut as refused:
        said = Said("This ring is out of the house", (out_words(refused),))
        return _page(request, seat, number, position, "", said=said, status=409)


@router.post("/bench/{number}/{position}/moves", response_class=HTMLResponse)
def moved(request: Request, seat: Bench, number: str, position: str, typed: Typed) -> Response:
    """The order of the ring comes to the bench, or is ready."""
    place = place_of(number, position)

    def work(book: Session) -> Answer:
        asked = Reading(typed, "")
        to = asked.choice("to", To)
        asked.stop()
        if to is None:
            raise Declined(422, "Where to? Press the button again.", field="to")
        version = read_id(typed.get("order_version"), "order_version")
        state = State(to.value)
        move_order(book, number=number, to=state, version=version, actor=seat.actor, now=seat.now)
        return Answer(303, "", f"/bench/{number}/{place}")

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))
    except (MoveRefused, ThingOut, VersionStale) as refused:
        said = Said("The order stays where it is", (declined(refused).errors[0].message,))
        return _page(request, seat, number, position, "", said=said, status=409)


def bench_page_again(
    request: Request, seat: Seat, ring: tuple[str, str], key: str, said: Said
) -> HTMLResponse:
    """The page of a ring once more, 422, with what is to be put right in another form of it."""
    return _page(request, seat, *ring, key, said=said, status=422)


def _deed(typed: Typed, stands: RingAtBench) -> tuple[Deed, Act]:
    """What the form asks for. Raises `FieldErrors` with all that is to be put right."""
    asked = Reading(typed, "")
    act = asked.choice("act", Act)
    key = str(typed.get("step", ""))
    operation = next((one for one in stands.operations if one.key == key), None)
    found = None if operation is None else measures(operation)
    is_told = act in {Act.DONE, Act.NOTE}
    figure = None
    if is_told and found is not None:
        limits = LIMITS[found]
        is_mass = found is Measures.WEIGHT
        figure = asked.mass("figure", limits) if is_mass else asked.length("figure", limits, gauge=None)
    minutes = asked.number("minutes", Limits(1, LONGEST_MINUTES), "min") if is_told else None
    reason = asked.read("reason", lambda value, field: read_text(value, field, longest=LONGEST_REASON))
    asked.stop()
    if act is None:
        raise Declined(422, "Which of the buttons was it? Press it again.", field="act")
    deed = Deed(
        _WHAT[act],
        "" if act is Act.UNDO else key,
        figure,
        None if minutes is None else max(1, round(minutes)),
        (reason or "") if act in {Act.DONE, Act.OPEN} else "",
    )
    return deed, act


def _not_saved(heading: str, told: tuple[str, ...], texts: dict[str, str]) -> Said:
    """Nothing was written: what happened instead, and what was typed in its fields again."""
    kept = "Nothing of yours was saved. What you typed still stands below."
    return Said(heading, (*told, kept), typed=texts)


def _page(
    request: Request,
    seat: Seat,
    number: str,
    position: str,
    key: str,
    *,
    said: Said | None = None,
    status: int = 200,
) -> HTMLResponse:
    with session(seat.engine) as book:
        context = read_bench_page(book, seat, (number, place_of(number, position)), key, said)
    return page(request, "bench/ring.html", context, status=status, is_bare=True)
