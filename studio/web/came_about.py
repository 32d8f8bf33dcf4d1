"""How every figure of a ring came about: formula, inputs, value, unit, source and day, on one page."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.ring_practices import workshop
from studio.craft.hallmark import HallmarkRule, foresight
from studio.craft.hallmark_crossing import crossing_workings
from studio.craft.inscriptions import room_of
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.reckonings import Reckoning
from studio.craft.resizing_working import resizing_workings
from studio.craft.roles import Right
from studio.craft.working import Working
from studio.papers.days import full_day_words
from studio.web.counter_desk import calendar_of
from studio.web.counter_form import CounterForm, particulars_on, read_counter_ring
from studio.web.counter_page import Step
from studio.web.counter_standing import standing_of
from studio.web.counter_steps import step_of
from studio.web.errors import Declined
from studio.web.order_words import size_of
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import opened, stock_words

router = APIRouter()

_HEADINGS = {
    "ring": "The ring",
    "blank": "The blank",
    "stretch": "Stretch of the pattern",
    "mass": "Weights",
    "hallmark": "Hallmark",
    "resizing": "Resizing later",
    "inscription": "Inscription",
}
"""What the figures are of, by the first part of their path."""


@dataclass(frozen=True, slots=True)
class FigureGroup:
    """Figures of one kind, each before what it hangs on is told."""

    heading: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class CameAboutPage:
    """The page: the ring in one sentence, the day its practice was written down, and the figures."""

    title: str
    ring: str
    stated: str
    groups: tuple[FigureGroup, ...]
    back_href: str
    back: str


@router.get("/orders/{number}/rings/{position}/came-about")
def of_ring(
    request: Request,
    seat: Annotated[Seat, requires(Right.SEE_ORDERS)],
    number: str,
    position: str,
    variant: str = "",
) -> HTMLResponse:
    """Every figure of a ring of an order; `?variant=b` is as that way makes it."""
    with session(seat.engine) as book:
        standing = standing_of(book, number, position, variant)
    if standing.ring is None:
        raise Declined(404, f"Order {standing.order.number} has no such ring.")
    ring = standing.ring
    return _page(request, seat, (ring.reckoning, ring.particulars), standing.order.number)


@router.get("/counter/came-about")
def of_counter(request: Request, seat: Annotated[Seat, requires(Right.RECKON)]) -> HTMLResponse:
    """Every figure of the ring that is being typed at the counter. Its fields stand in the address."""
    form = CounterForm(dict(request.query_params))
    with session(seat.engine) as book:
        reckoning = read_counter_ring(form, calendar_of(seat), workshop(book, seat.today)).reckoning
    if reckoning is None:
        raise Declined(404, "There is no whole ring to reckon yet.")
    return _page(request, seat, (reckoning, particulars_on(form)), "")


def workings_of(
    reckoning: Reckoning, rule: HallmarkRule, particulars: Particulars = NOT_ASKED
) -> tuple[Working, ...]:
    """All workings of a ring, with those of its hallmark, of resizing it and of its inscription."""
    foreseen = foresight(reckoning, rule)
    hallmark = () if foreseen is None else (*foreseen.working, *crossing_workings(reckoning, foreseen))
    words = particulars.words_to_cut
    cut = () if words is None else room_of(words, reckoning).working
    return (*reckoning.working, *hallmark, *resizing_workings(reckoning, particulars), *cut)


def groups_of(workings: Sequence[Working]) -> tuple[FigureGroup, ...]:
    """The figures under their headings, in the order they were reckoned."""
    groups: dict[str, list[Step]] = {}
    for worked in workings:
        groups.setdefault(_HEADINGS[worked.figure.partition(".")[0]], []).append(step_of(worked))
    return tuple(FigureGroup(heading, tuple(steps)) for heading, steps in groups.items())


def _page(request: Request, seat: Seat, ring: tuple[Reckoning, Particulars], order: str) -> HTMLResponse:
    reckoning, particulars = ring
    design, practice = reckoning.design, reckoning.practice
    what = stock_words(design.profile, design.width_mm, design.thickness_mm)
    stated = max((practice.stated_on, *(one.since for one in practice.said.values())))
    context = CameAboutPage(
        title=f"How it came about, {order}" if order else "How it came about",
        ring=f"{opened(what)} mm, {size_of(reckoning.finger)}, {reckoning.alloy.name}",
        stated=f"By the studio's practice as written down on {full_day_words(stated)}.",
        groups=groups_of(workings_of(reckoning, seat.rule, particulars)),
        back_href=f"/orders/{order}" if order else "",
        back=f"Order {order}" if order else "",
    )
    return page(request, "came_about/page.html", context, place=Place.ORDERS)
