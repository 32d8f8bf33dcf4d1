"""How the rings of an order fit after weeks: asked, and written down."""

import secrets
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.fit_answers import answer_fit
from studio.book.making_errors import NotWorn
from studio.book.order_reads import order as read_order
from studio.book.order_values import Order
from studio.craft.as_made import size_words
from studio.craft.directions import apart
from studio.craft.errors import Refused
from studio.craft.fit_feedback import (
    LONGEST_FIT_NOTE,
    OFF_MM,
    Verdict,
)
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.craft.units import shown_length
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.errors import FieldError, FieldErrors, in_words
from studio.web.keeping import keep
from studio.web.many_forms import lines_of
from studio.web.order_words import finger_words, size_of
from studio.web.reading import Reading
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text
from studio.web.wording import design_words, opened

router = APIRouter()

Asker = Annotated[Seat, requires(Right.TAKE_ORDERS)]
VERDICTS = (Choice("", "not asked yet"), *(Choice(one, one) for one in Verdict))
_NOTHING = Said()


@dataclass(frozen=True, slots=True)
class RingToAsk:
    """One ring of which the fit is asked, with the names of its fields."""

    heading: str
    what: str
    made: str
    verdict_name: str
    off_name: str
    words_name: str


@dataclass(frozen=True, slots=True)
class FitPage:
    """The page of one order. `closed` says why nobody can be asked, '' where somebody can."""

    title: str
    heading: str
    order: str
    order_href: str
    action: str
    closed: str
    phone: str
    rings: tuple[RingToAsk, ...]
    verdicts: tuple[Choice, ...]
    texts: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    form_key: str


@router.get("/orders/{number}/fit", response_class=HTMLResponse)
def shown(request: Request, seat: Asker, number: str) -> HTMLResponse:
    """The rings of an order that is handed over, and what was said of their fit so far."""
    return _page(request, seat, number)


@router.post("/orders/{number}/fit", response_class=HTMLResponse)
def put(request: Request, seat: Asker, number: str, typed: Typed) -> Response:
    """Write down what was said of each ring; of one that nobody asked about nothing is written."""
    with session(seat.engine) as book:
        found = read_order(book, number)
    words = _words(found)

    def work(book: Session) -> None:
        answers = _read(typed, found)
        for position, (verdict, off_mm, told) in answers.items():
            try:
                answer_fit(
                    book,
                    number=number,
                    position=position,
                    verdict=verdict,
                    off_mm=off_mm,
                    words=told,
                    actor=seat.actor,
                    now=seat.now,
                )
            except Refused as refused:
                names = {"off_mm": f"off-{position}", "words": f"words-{position}"}
                raise FieldErrors(
                    [
                        FieldError(names.get(error.field or "", error.field), error.message)
                        for error in in_words(refused)
                    ]
                ) from None

    try:
        return keep(
            request,
            seat,
            typed,
            texts=typed_texts(typed, *words),
            words=words,
            href=f"/orders/{number}#ring-1",
            work=work,
            again=lambda said, status: _page(request, seat, number, said=said, status=status),
            stands=lambda book: _texts(read_order(book, number)),
            heading="Somebody else noted the fit meanwhile",
        )
    except NotWorn as refused:
        said = Said("Nothing was noted", (declined(refused).errors[0].message,))
        return _page(request, seat, number, said=said, status=409)


def _page(
    request: Request, seat: Seat, number: str, *, said: Said = _NOTHING, status: int = 200
) -> HTMLResponse:
    with session(seat.engine) as book:
        found = read_order(book, number)
    words = _words(found)
    is_worn = found.state is State.HANDED_OVER
    context = FitPage(
        title=f"How it fits, {found.number}",
        heading=f"{apart(found.customer.name)}, {found.number}",
        order=f"Order {found.number}",
        order_href=f"/orders/{found.number}",
        action=f"/orders/{found.number}/fit",
        closed="" if is_worn else f"This order is {found.state}: nobody has worn it yet.",
        phone=found.customer.phone or "",
        rings=_rings(found) if is_worn else (),
        verdicts=VERDICTS,
        texts=said.typed or _texts(found),
        said=said,
        error_lines=lines_of(said, words),
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "fits/order.html", context, place=Place.ORDERS, status=status)


def _rings(found: Order) -> tuple[RingToAsk, ...]:
    told = []
    for ring in found.rings:
        at, design = ring.position, ring.design
        what = design_words(
            design.profile, design.width_mm, design.thickness_mm, design.pattern, design.alloy
        )
        made, whose = found.made.get(at), finger_words(ring.finger)
        beyond = ring.reckoning.practice.reading.beyond_z
        told.append(
            RingToAsk(
                heading=f"Ring {at} of {len(found.rings)}" if len(found.rings) > 1 else "The ring",
                what=opened(", ".join(part for part in (size_of(ring.finger), whose, what) if part)),
                made="" if made is None else f"{opened(size_words(made, beyond))}.",
                verdict_name=f"verdict-{at}",
                off_name=f"off-{at}",
                words_name=f"words-{at}",
            )
        )
    return tuple(told)


def _words(found: Order) -> dict[str, str]:
    """The fields of the form and their words."""
    told: dict[str, str] = {}
    for ring in found.rings:
        of = f", ring {ring.position}" if len(found.rings) > 1 else ""
        told |= {
            f"verdict-{ring.position}": f"How it fits{of}",
            f"off-{ring.position}": f"By how much{of}",
            f"words-{ring.position}": f"In their words{of}",
        }
    return told


def _texts(found: Order) -> dict[str, str]:
    """What was said already, as the fields show it."""
    told: dict[str, str] = {}
    for position, fit in found.fits.items():
        told |= {
            f"verdict-{position}": fit.verdict,
            f"off-{position}": "" if fit.off_mm is None else shown_length(fit.off_mm),
            f"words-{position}": fit.note,
        }
    return told


def _read(typed: Typed, found: Order) -> dict[int, tuple[Verdict, float | None, str]]:
    """What was said of each ring that was asked about. Raises `FieldErrors`, also where none was."""
    asked = Reading(typed, "")
    told = {}
    for ring in found.rings:
        at = ring.position
        verdict = asked.choice(f"verdict-{at}", Verdict)
        off_mm = asked.length(f"off-{at}", OFF_MM, gauge=None)
        words = asked.read(
            f"words-{at}", lambda value, field: read_text(value, field, longest=LONGEST_FIT_NOTE)
        )
        if verdict is not None:
            told[at] = verdict, off_mm, words or ""
        elif (asked.has(f"off-{at}") or asked.has(f"words-{at}")) and not asked.is_wrong(f"verdict-{at}"):
            asked.add(f"verdict-{at}", "Too tight, right or loose? Choose first.")
    asked.stop()
    if not told:
        raise FieldErrors([FieldError(f"verdict-{found.rings[0].position}", "How does it fit? Choose one.")])
    return told
