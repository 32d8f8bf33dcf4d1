"""The studio's printers: what a bar of 100 mm measures on each. Whoever may print sheets may put them in."""

import secrets
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Query
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.printers import (
    LONGEST_NAME,
    PrinterDraft,
    StudioPrinter,
    drawn_for,
    printers,
    put_printer,
)
from studio.craft.printers import BAR_MM, FOR_ANY, MEASURED_MM, Drawn, PaperSize
from studio.craft.roles import Right
from studio.craft.units import figure_words, shown_length
from studio.papers.check_sheet import check_sheet
from studio.web.bodies import Typed
from studio.web.counter_choices import Choice
from studio.web.counter_page import ErrorLine
from studio.web.keeping import keep
from studio.web.many_forms import OneOfMany, lines_of
from studio.web.printing import printed_while_asked
from studio.web.reading import Reading, read_id, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Bench = Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS)]
AskedPrinter = Annotated[str, Query(alias="printer", description="A printer's number, or none.")]
HREF = "/printers"
WORDS = {
    "name": "Name",
    "paper": "Paper",
    "across_mm": "The bar across measures",
    "down_mm": "The bar down measures",
    "is_usual": "Sheets are drawn for it",
}
"""The form's fields and their words."""
NO_PRINTER = "none"
"""What asks for a sheet as it is drawn, whatever the usual printer is."""
_NOTHING = Said()


@dataclass(frozen=True, slots=True)
class PrinterForm(OneOfMany):
    """One printer as a form: `texts` are its fields by name, `said` what is to be put right in it."""

    number: int
    heading: str
    summary: str
    action: str
    version: int
    texts: dict[str, str]
    said: Said
    is_open: bool


@dataclass(frozen=True, slots=True)
class PrintersPage:
    """The page."""

    title: str
    heading: str
    heading_note: str
    printers: tuple[PrinterForm, ...]
    new: PrinterForm
    papers: tuple[Choice, ...]
    words: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    form_key: str
    href: str = HREF
    check_href: str = f"{HREF}/check-sheet.pdf?printer={NO_PRINTER}"


def asked_printer(book: Session, asked: str) -> Drawn:
    """What a sheet is drawn for: '' the usual printer, 'none' no printer, else the one of that number.

    Raises `FieldErrors` for what is no number, `PrinterUnknown`.
    """
    if asked == NO_PRINTER:
        return FOR_ANY
    return drawn_for(book, read_id(asked, "printer") if asked else None)


@router.get("/printers", response_class=HTMLResponse)
def shown(request: Request, seat: Bench) -> HTMLResponse:
    """The page."""
    return _page(request, seat)


@router.get("/printers/check-sheet.pdf", response_class=Response)
async def check(request: Request, seat: Bench, printer: AskedPrinter = "") -> Response:
    """The two bars of a bench sheet alone, to be measured; corrected for `?printer=`, as it is for 'none'."""
    drawn = await run_in_threadpool(_drawn, seat, printer)
    paper = await printed_while_asked(request, check_sheet(drawn, seat.today))
    name = {"Content-Disposition": 'inline; filename="check-sheet.pdf"'}
    return Response(paper, media_type="application/pdf", headers=name)


@router.post("/printers", response_class=HTMLResponse)
def add(request: Request, seat: Bench, typed: Typed) -> Response:
    """Put in one more printer."""
    return _kept(request, seat, typed, 0)


@router.post("/printers/{printer_id}", response_class=HTMLResponse)
def change(request: Request, seat: Bench, typed: Typed, printer_id: int) -> Response:
    """Let a printer be as typed from the next sheet on."""
    return _kept(request, seat, typed, printer_id)


def _drawn(seat: Seat, asked: str) -> Drawn:
    with session(seat.engine) as book:
        return asked_printer(book, asked)


def _kept(request: Request, seat: Seat, typed: dict[str, object], number: int) -> Response:
    raw = {name: typed.get(f"{name}-{number}") for name in WORDS}

    def work(book: Session) -> None:
        put_printer(
            book,
            printer=read_printer_draft(raw),
            printer_id=number or None,
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
        stands=lambda book: next(_texts(one) for one in printers(book) if one.id == number),
        heading="Somebody else changed this printer meanwhile",
    )


def read_printer_draft(raw: dict[str, object]) -> PrinterDraft:
    """The printer as typed, an empty bar being a true one; raises `FieldErrors` with all to be put right."""
    asked = Reading(raw, "")
    name = asked.needed("name", lambda value, field: read_text(value, field, longest=LONGEST_NAME), "name")
    paper = asked.choice("paper", PaperSize)
    if paper is None and not asked.is_wrong("paper"):
        asked.add("paper", "This is not chosen yet.")
    across = asked.length("across_mm", MEASURED_MM, gauge=None)
    down = asked.length("down_mm", MEASURED_MM, gauge=None)
    is_usual = asked.yes("is_usual")
    asked.stop()
    return PrinterDraft(
        sure(name),
        sure(paper),
        BAR_MM if across is None else across,
        BAR_MM if down is None else down,
        bool(is_usual),
    )


def _page(
    request: Request, seat: Seat, said: Said = _NOTHING, status: int = 200, number: int | None = None
) -> HTMLResponse:
    with session(seat.engine) as book:
        found = printers(book)
    context = PrintersPage(
        title=f"{said.heading}: Printers" if said.heading else "Printers",
        heading="Printers",
        heading_note="How long each really prints, so that a sheet can be drawn to measure true on it",
        printers=tuple(_form(one, said if one.id == number else _NOTHING) for one in found),
        new=_new(said if number == 0 else _NOTHING, is_first=not found),
        papers=tuple(Choice(paper, paper) for paper in PaperSize),
        words=WORDS,
        said=said,
        error_lines=lines_of(said, WORDS, number),
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "printers/page.html", context, place=Place.WEEK, status=status)


def _form(one: StudioPrinter, said: Said) -> PrinterForm:
    texts = said.typed or _texts(one)
    action = f"{HREF}/{one.id}"
    return PrinterForm(
        one.id, one.drawn.name, _summary(one), action, one.version, texts, said, bool(said.typed)
    )


def _new(said: Said, *, is_first: bool) -> PrinterForm:
    texts = said.typed or {"paper": PaperSize.A4, "is_usual": "yes" if is_first else ""}
    return PrinterForm(0, "Put in a printer", "", HREF, 0, texts, said, is_first or bool(said.typed))


def _texts(one: StudioPrinter) -> dict[str, str]:
    drawn = one.drawn
    return {
        "name": drawn.name,
        "paper": drawn.paper,
        "across_mm": "" if drawn.across_mm == BAR_MM else shown_length(drawn.across_mm),
        "down_mm": "" if drawn.down_mm == BAR_MM else shown_length(drawn.down_mm),
        "is_usual": "yes" if one.is_usual else "",
    }


def _summary(one: StudioPrinter) -> str:
    """'A4, bars of 97.2 across and 100 down; sheets are drawn for it'."""
    drawn = one.drawn
    told = "nothing is corrected"
    if drawn.is_corrected:
        told = f"bars of {figure_words(drawn.across_mm)} across and {figure_words(drawn.down_mm)} down"
    return f"{drawn.paper}, {told}{'; sheets are drawn for it' if one.is_usual else ''}"
