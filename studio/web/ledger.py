"""Where every gram went: the metal ledger of a month or a year, and what is written into it by hand."""

from collections.abc import Callable, Mapping
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.ledger_entries import LONGEST_NOTE, ByHand, correct_movement, enter_by_hand
from studio.book.ledger_reads import ledger_lines
from studio.book.practices import practice_on
from studio.craft.designs import Limits
from studio.craft.ledger import BY_HAND, MetalMove
from studio.craft.roles import Right
from studio.craft.units import to_milligrams
from studio.web.bodies import Typed
from studio.web.keeping import keep
from studio.web.ledger_page import HREF, WORDS, Period, ledger_context, read_period
from studio.web.ledger_words import ledger_csv
from studio.web.reading import Reading, sure
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]
MASS_G = Limits(0.001, 100_000)
_NOTHING = Said()


@router.get("/metal/ledger", response_class=HTMLResponse)
def now(request: Request, seat: Keeper) -> HTMLResponse:
    """The ledger of the month that runs."""
    return _page(request, seat, read_period(f"{seat.today:%Y-%m}"))


@router.get("/metal/ledger/{period}.csv", response_class=Response)
def listed(period: str, seat: Keeper) -> Response:
    """The rows of a month or a year as CSV."""
    asked = read_period(period)
    with session(seat.engine) as book:
        lines = ledger_lines(book, first=asked.first, last=asked.last)
        alloys = practice_on(book, seat.today).alloys
    headers = {"Content-Disposition": f'attachment; filename="metal-{asked.key}.csv"'}
    return Response(ledger_csv(lines, alloys), media_type="text/csv; charset=utf-8", headers=headers)


@router.get("/metal/ledger/{period}", response_class=HTMLResponse)
def shown(request: Request, period: str, seat: Keeper) -> HTMLResponse:
    """The ledger of a month or a year."""
    return _page(request, seat, read_period(period))


@router.post("/metal/movements", response_class=HTMLResponse)
def add(request: Request, seat: Keeper, typed: Typed) -> Response:
    """Write a movement down."""
    texts = typed_texts(typed, "what", "alloy", "mass", "ring", "operation", "note")

    def work(book: Session) -> None:
        asked = Reading(texts, "")
        what = asked.choice("what", MetalMove)
        if what not in BY_HAND and not asked.is_wrong("what"):
            asked.add("what", "What happened is not chosen yet.")
        if texts["alloy"] not in practice_on(book, seat.today).alloys:
            asked.add("alloy", "The metal is not chosen yet.")
        mass = asked.mass("mass", MASS_G)
        if mass is None and not asked.is_wrong("mass"):
            asked.add("mass", "The weight is not given yet.")
        words = asked.read("note", lambda value, field: read_text(value, field, longest=LONGEST_NOTE))
        asked.stop()
        made = ByHand(
            sure(what),
            texts["alloy"],
            to_milligrams(sure(mass)),
            texts["ring"],
            texts["operation"],
            words or "",
        )
        enter_by_hand(book, asked=made, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work, key="")


@router.post("/metal/movements/{number}/correction", response_class=HTMLResponse)
def correct(request: Request, seat: Keeper, typed: Typed, number: int) -> Response:
    """Take a movement back by one the other way."""
    texts = typed_texts({"why": typed.get(f"why-{number}")}, "why")

    def work(book: Session) -> None:
        why = read_text(texts["why"], "why", longest=LONGEST_NOTE)
        correct_movement(book, number=number, why=why, actor=seat.actor, now=seat.now)

    return _done(request, seat, typed, texts=texts, work=work, key=str(number))


def _done(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    *,
    texts: dict[str, str],
    work: Callable[[Session], None],
    key: str,
) -> Response:
    here = f"{seat.today:%Y-%m}"
    return keep(
        request,
        seat,
        typed,
        texts=texts,
        words=WORDS,
        href=f"{HREF}/{here}",
        work=work,
        again=lambda said, status: _page(request, seat, read_period(here), said, status=status, key=key),
    )


def _page(
    request: Request, seat: Seat, of: Period, said: Said = _NOTHING, *, status: int = 200, key: str = ""
) -> HTMLResponse:
    with session(seat.engine) as book:
        context = ledger_context(book, seat, of, said, key)
    return page(request, "ledger/page.html", context, place=Place.METAL, status=status)
