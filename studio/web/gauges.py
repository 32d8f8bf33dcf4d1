"""The studio's gauges: what each measures and how it is calibrated, put in and changed. The owner's alone."""

import secrets
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.gauges import (
    CORRECTION_MM,
    LONGEST_NAME,
    LONGEST_NOTE,
    STEP_MM,
    WIDTH_MM,
    GaugeDraft,
    StudioGauge,
    gauges,
    put_gauge,
)
from studio.craft.designs import GaugeKind, System
from studio.craft.practice import STEPS_MM
from studio.craft.roles import Right
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.units import figure_words, shown_length
from studio.papers.days import full_day_words
from studio.web.bodies import Typed
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.forms import Calendar
from studio.web.keeping import keep
from studio.web.many_forms import OneOfMany, lines_of
from studio.web.reading import Reading, read_id, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_RATES)]
HREF = "/studio/gauges"
WORDS = {
    "name": "Name",
    "kind": "Kind",
    "system": "System",
    "width_mm": "Width of its rings",
    "step_mm": "Step",
    "correction_mm": "Correction",
    "calibrated_on": "Calibrated on",
    "note": "Note",
    "is_usual": "The usual one",
    "is_put_away": "Put away",
}
"""The form's fields and their words."""
_NOTHING = Said()
_KINDS = {GaugeKind.SET: "Ring set, measures a finger", GaugeKind.STICK: "Stick, measures a ring that fits"}


@dataclass(frozen=True, slots=True)
class GaugeForm(OneOfMany):
    """One gauge as a form: `texts` are its fields by name, `said` what is to be put right in it."""

    number: int
    heading: str
    summary: str
    action: str
    version: int
    texts: dict[str, str]
    said: Said
    is_open: bool


@dataclass(frozen=True, slots=True)
class GaugesPage:
    """The page."""

    title: str
    heading: str
    heading_note: str
    gauges: tuple[GaugeForm, ...]
    new: GaugeForm
    kinds: tuple[Choice, ...]
    systems: tuple[Choice, ...]
    words: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    form_key: str
    href: str = HREF
    studio_href: str = "/studio"


@router.get("/studio/gauges", response_class=HTMLResponse)
def shown(request: Request, seat: Keeper) -> HTMLResponse:
    """The page."""
    return _page(request, seat)


@router.post("/studio/gauges", response_class=HTMLResponse)
def add(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Put in one more gauge."""
    return _kept(request, seat, typed, 0)


@router.post("/studio/gauges/{gauge_id}", response_class=HTMLResponse)
def change(request: Request, seat: Keeper, typed: Typed, gauge_id: int) -> Response:
    """Let a gauge be as typed from now on."""
    return _kept(request, seat, typed, gauge_id)


def _kept(request: Request, seat: Seat, typed: dict[str, object], number: int) -> Response:
    raw = {name: typed.get(f"{name}-{number}") for name in WORDS}

    def work(book: Session) -> None:
        put_gauge(
            book,
            gauge=read_gauge_draft(raw, Calendar(seat.today, seat.zone)),
            gauge_id=number or None,
            version=read_id(typed.get("version"), "version") if number else None,
            actor=seat.actor,
            now=seat.now,
        )

    return keep(
        request,
        seat,
        typed,
        texts=typed_texts(raw, *WORDS),
        words=WORDS,
        href=HREF,
        work=work,
        again=lambda said, status: _page(request, seat, said, status, number),
        stands=lambda book: next(_texts(one) for one in gauges(book) if one.gauge.id == number),
        heading="Somebody else changed this gauge meanwhile",
    )


def read_gauge_draft(raw: dict[str, object], calendar: Calendar) -> GaugeDraft:
    """The gauge as typed; raises `FieldErrors` with all that is to be put right."""
    asked = Reading(raw, "")
    name = asked.needed("name", lambda value, field: read_text(value, field, longest=LONGEST_NAME), "name")
    kind, system = asked.choice("kind", GaugeKind), asked.choice("system", System)
    for field, value in (("kind", kind), ("system", system)):
        if value is None and not asked.is_wrong(field):
            asked.add(field, "This is not chosen yet.")
    width = asked.length("width_mm", WIDTH_MM, gauge=None)
    step = asked.length("step_mm", STEP_MM, gauge=None)
    if not asked.has("step_mm") and system is not None:
        step = STEPS_MM[system]
    correction = asked.length("correction_mm", CORRECTION_MM, gauge=None)
    day = asked.read("calibrated_on", calendar.day)
    note = asked.read("note", lambda value, field: read_text(value, field, longest=LONGEST_NOTE))
    is_usual, is_put_away = asked.yes("is_usual"), asked.yes("is_put_away")
    asked.stop()
    return GaugeDraft(
        name=sure(name),
        kind=sure(kind),
        system=sure(system),
        width_mm=width,
        step_mm=sure(step),
        correction_mm=correction or 0.0,
        calibrated_on=day,
        note=note or "",
        is_usual=bool(is_usual),
        is_put_away=bool(is_put_away),
    )


def _page(
    request: Request, seat: Seat, said: Said = _NOTHING, status: int = 200, number: int | None = None
) -> HTMLResponse:
    with session(seat.engine) as book:
        found = gauges(book)
    context = GaugesPage(
        title=f"{said.heading}: Gauges" if said.heading else "Gauges",
        heading="Gauges",
        heading_note="What fingers are measured with, and how each is corrected",
        gauges=tuple(_form(one, said if one.gauge.id == number else _NOTHING) for one in found),
        new=_new(said if number == 0 else _NOTHING, is_first=not found),
        kinds=tuple(Choice(kind, words) for kind, words in _KINDS.items()),
        systems=tuple(Choice(system, SYSTEM_NAMES[system]) for system in System),
        words=WORDS,
        said=said,
        error_lines=lines_of(said, WORDS, number),
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "gauges/page.html", context, place=Place.STUDIO, status=status)


def _form(one: StudioGauge, said: Said) -> GaugeForm:
    number = one.gauge.id
    texts = said.typed or _texts(one)
    return GaugeForm(
        number, one.gauge.name, _summary(one), f"{HREF}/{number}", one.version, texts, said, bool(said.typed)
    )


def _new(said: Said, *, is_first: bool) -> GaugeForm:
    texts = said.typed or {"kind": GaugeKind.SET, "system": System.UK}
    return GaugeForm(0, "Put in a gauge", "", HREF, 0, texts, said, is_first or bool(said.typed))


def _texts(one: StudioGauge) -> dict[str, str]:
    """The gauge as its fields show it."""
    own = one.gauge
    return {
        "name": own.name,
        "kind": own.kind,
        "system": own.system,
        "width_mm": "" if own.width_mm is None else shown_length(own.width_mm),
        "step_mm": shown_length(own.step_mm),
        "correction_mm": shown_length(own.correction_mm),
        "calibrated_on": "" if own.calibrated_on is None else full_day_words(own.calibrated_on),
        "note": one.note,
        "is_usual": "yes" if one.is_usual else "",
        "is_put_away": "yes" if one.is_put_away else "",
    }


def _summary(one: StudioGauge) -> str:
    """'UK, 6 mm wide, corrected by +0.12 mm, calibrated on Tue 3 Nov 2026; the usual one'."""
    own = one.gauge
    words = ["stick" if own.kind is GaugeKind.STICK else "set", SYSTEM_NAMES[own.system]]
    if own.width_mm is not None:
        words.append(f"{figure_words(own.width_mm)} mm wide")
    if own.correction_mm:
        words.append(f"corrected by {own.correction_mm:+.2f} mm".replace("-", "−"))
    day = "not calibrated yet"
    if own.calibrated_on is not None:
        day = f"calibrated on {full_day_words(own.calibrated_on)}"
    words.append(day)
    use = "; put away" if one.is_put_away else "; the usual one" if one.is_usual else ""
    return ", ".join(words) + use
