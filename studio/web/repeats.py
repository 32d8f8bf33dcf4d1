"""Whole repeats of a pattern round a ring: asked by a pitch in the address, shown, printed at true scale."""

from dataclasses import dataclass
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Query
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.order_values import OrderRing
from studio.craft.designs import Pattern
from studio.craft.errors import Refused
from studio.craft.printers import Drawn
from studio.craft.repeats import PITCH_MM, repeats_of
from studio.craft.roles import Right
from studio.craft.units import read_length
from studio.papers.repeat_sheet import RingToRepeat, repeat_sheet, repeat_words
from studio.web.counter_standing import standing_of
from studio.web.errors import Declined, in_words
from studio.web.order_words import size_of
from studio.web.printers import AskedPrinter, asked_printer
from studio.web.printing import printed_while_asked
from studio.web.render import Place, page
from studio.web.security import Seat, requires

router = APIRouter()

Pitch = Annotated[str, Query(description="The pitch wanted on the closed ring, in mm or with its unit.")]


@dataclass(frozen=True, slots=True)
class RepeatsPage:
    """The page: the ring, the pitch as typed, what comes of it or why nothing does."""

    title: str
    ring: str
    back_href: str
    back: str
    action: str
    typed: str
    error: str
    told: tuple[str, ...]
    paper_href: str


@router.get("/orders/{number}/rings/{position}/repeats", response_class=HTMLResponse)
def shown(
    request: Request,
    seat: Annotated[Seat, requires(Right.SEE_ORDERS)],
    number: str,
    position: str,
    pitch: Pitch = "",
) -> HTMLResponse:
    """How many repeats go round, nearest to the pitch of `?pitch=`, and how they are marked on the strip."""
    ring, stands = _patterned(seat, number, position)
    typed, error = pitch.strip(), ""
    told: tuple[str, ...] = ()
    if typed:
        try:
            told = repeat_words(ring.reckoning, repeats_of(ring.reckoning, read_pitch(typed)))
        except Refused as refused:
            error = in_words(refused)[0].message
    href = f"/orders/{stands}/rings/{ring.position}/repeats"
    context = RepeatsPage(
        title=f"Repeats, {stands}, ring {ring.position}",
        ring=f"{stands}, ring {ring.position}, {size_of(ring.finger)}",
        back_href=f"/orders/{stands}",
        back=f"Order {stands}",
        action=href,
        typed=typed,
        error=error,
        told=told,
        paper_href=f"{href}.pdf?{urlencode({'pitch': typed})}" if told else "",
    )
    return page(request, "repeats/page.html", context, place=Place.ORDERS, status=422 if error else 200)


@router.get("/orders/{number}/rings/{position}/repeats.pdf", response_class=Response)
async def strip_template(  # noqa: PLR0917  the framework hands over by name
    request: Request,
    seat: Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS)],
    number: str,
    position: str,
    pitch: Pitch = "",
    printer: AskedPrinter = "",
) -> Response:
    """The strip with its marks at true scale, to be laid on the metal; drawn as a bench sheet is."""
    ring, stands = await run_in_threadpool(_patterned, seat, number, position)
    wanted_mm = read_pitch(pitch)
    repeats_of(ring.reckoning, wanted_mm)
    drawn = await run_in_threadpool(_drawn, seat, printer)
    told = RingToRepeat(stands, ring.position, ring.reckoning, wanted_mm)
    paper = repeat_sheet(told, drawn, seat.today)
    name = {"Content-Disposition": f'inline; filename="repeats-{stands}-{ring.position}.pdf"'}
    made = await printed_while_asked(request, paper)
    return Response(made, media_type="application/pdf", headers=name)


def read_pitch(typed: str) -> float:
    """The pitch in mm, out of '2.5' or '2.5 mm'. Raises `Refused` at 'pitch'."""
    return read_length(typed, "pitch", low_mm=PITCH_MM.low, high_mm=PITCH_MM.high, gauge=None)


def _drawn(seat: Seat, asked: str) -> Drawn:
    with session(seat.engine) as book:
        return asked_printer(book, asked)


def _patterned(seat: Seat, number: str, position: str) -> tuple[OrderRing, str]:
    """The ring and its order's number; 404 where there is none, 409 where it has no pattern."""
    with session(seat.engine) as book:
        standing = standing_of(book, number, position)
    stands = standing.order.number
    if standing.ring is None:
        raise Declined(404, f"Order {stands} has no such ring.")
    if standing.ring.reckoning.design.pattern is Pattern.PLAIN:
        raise Declined(409, "This ring is plain; there is no pattern to repeat.")
    return standing.ring, stands
