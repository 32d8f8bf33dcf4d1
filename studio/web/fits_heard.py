"""Beside the fit rule: what it allowed, and what customers said of it after weeks."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.making_reads import fit_answers
from studio.book.practices import practice_on
from studio.craft.fit_feedback import FROM_ANSWERS, BandHeard, FitAnswer, Verdict, heard, verdict_words
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.roles import Right
from studio.craft.units import figure_words
from studio.web.order_made import fit_note
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import opened

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_RATES)]
MOST_LISTED = 100


@dataclass(frozen=True, slots=True)
class BandLine:
    """One kind of ring in one band of width: what the rule adds, what was given, what was said."""

    kind: str
    band: str
    allowed: str
    said: str
    shift: str


@dataclass(frozen=True, slots=True)
class SaidLine:
    """One answer: of which ring, what it was, what was said."""

    ring: str
    href: str
    what: str
    given: str
    verdict: str
    note: str


@dataclass(frozen=True, slots=True)
class FitsHeardPage:
    """The page beside the fit rule."""

    title: str
    heading_note: str
    bands: tuple[BandLine, ...]
    answers: tuple[SaidLine, ...]
    rule_href: str = "/studio/practice#fit"
    studio_href: str = "/studio/practice"


@router.get("/studio/practice/fit", response_class=HTMLResponse)
def all_heard(request: Request, seat: Keeper) -> HTMLResponse:
    """What the rule allowed and what customers said of it; the rule is changed by the owner alone."""
    with session(seat.engine) as book:
        practice = practice_on(book, seat.today)
        found = fit_answers(book)
    told = [one for one in found if one.verdict is not Verdict.NO_ANSWER]
    context = FitsHeardPage(
        title="How rings fit",
        heading_note="What the fit rule allowed, and what customers said after weeks",
        bands=tuple(_band(one) for one in heard(told, practice)),
        answers=tuple(_said(one, seat) for one in told[:MOST_LISTED]),
    )
    return page(request, "fits/heard.html", context, place=Place.STUDIO)


def _band(one: BandHeard) -> BandLine:
    shift = f"{FROM_ANSWERS - one.answers} more answers, then it says something"
    if one.answers == FROM_ANSWERS - 1:
        shift = "one more answer, then it says something"
    if one.shift is not None:
        figures = f"{_signed(one.shift.mean_mm)} ± {one.shift.half_width_mm:.2f} mm"
        shift = figures if one.shift.is_clear else f"{figures}: no clear change"
    return BandLine(
        kind=opened(PROFILE_NAMES[one.profile]),
        band=one.band,
        allowed=f"The rule adds {_signed(one.adds_mm)} mm; given on average {_signed(one.allowed_mm)}",
        said=f"{one.tight} too tight, {one.right} right, {one.loose} loose",
        shift=shift,
    )


def _said(one: FitAnswer, seat: Seat) -> SaidLine:
    number, _, position = one.ring.partition("/")
    return SaidLine(
        ring=one.ring,
        href=f"/orders/{number}#ring-{position}",
        what=f"{opened(PROFILE_NAMES[one.profile])}, {figure_words(one.width_mm)} mm wide",
        given=f"given {_signed(one.allowed_mm)} mm",
        verdict=opened(verdict_words(one.verdict, one.off_mm)),
        note=fit_note(one, seat),
    )


def _signed(value_mm: float) -> str:
    return "0.00" if round(value_mm, 2) == 0 else f"{value_mm:+.2f}".replace("-", "−")
