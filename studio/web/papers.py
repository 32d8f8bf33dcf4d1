"""The papers over HTTP: read in a thread, printed elsewhere, with no session held meanwhile."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Query
from sqlalchemy import Engine
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio import clock
from studio.book.engine import session
from studio.book.errors import QuotePdfNotYet
from studio.book.order_reads import order
from studio.book.order_values import Order, OrderRing
from studio.book.pictures import small_jpegs
from studio.book.quote_paper import paper_of_issued
from studio.book.quotes import put_pdf
from studio.book.quotes import quote_pdf as kept_pdf
from studio.book.routes import routes_of
from studio.book.week_orders import orders_of_week
from studio.craft.printers import Drawn
from studio.craft.proofs import standing_proof
from studio.craft.roles import Right
from studio.craft.route_changes import ChangedRoute
from studio.papers.bench_sheet import RingToMake, bench_sheets, empty_week
from studio.papers.days import day_words, full_day_words
from studio.papers.printing import Printer
from studio.papers.quote import quote_to_print
from studio.papers.quote_parts import QuotePaper
from studio.papers.sheet_pictures import PrintedPicture
from studio.web.days import read_date, week_end
from studio.web.printers import AskedPrinter, asked_printer
from studio.web.printing import app_address, pdf_answer, printed_while_asked, printer_of
from studio.web.security import Seat, requires
from studio.web.sheets import amended_by, check_has_sheet, sheet_path

router = APIRouter()

Routes = Mapping[int, ChangedRoute]
Bench = Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS)]


@router.get("/orders/{number}/bench-sheet.pdf", response_class=Response)
async def bench_sheets_of_order(
    request: Request,
    number: str,
    seat: Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS, is_bench_work=True)],
    printer: AskedPrinter = "",
) -> Response:
    """The sheets of all rings of the order, drawn for `?printer=` or the usual one.

    409 before it is agreed and once it is called off.
    """
    found, routes, shown, drawn = await run_in_threadpool(_order, seat, number, printer)
    check_has_sheet(found)
    rings = _rings(found, routes, shown, _Sheets(seat, app_address(request), drawn))
    title = f"Bench sheet {found.number}, {found.customer.name}"
    paper = await printed_while_asked(request, bench_sheets(rings, title=title))
    return pdf_answer(paper, f"bench-sheet-{found.number}.pdf")


@router.get("/week/papers.pdf", response_class=Response)
async def bench_sheets_of_week(
    request: Request,
    seat: Bench,
    from_: Annotated[str, Query(alias="from")] = "",
    printer: AskedPrinter = "",
) -> Response:
    """The sheets of every ring that is due at the bench in the week of `?from=`, by bench date.

    Any day names its week, counted from Monday; left out, it is this week. A week without any gets one page
    that says so. They are drawn for `?printer=` or the usual one.
    """
    asked = read_date(from_, "from", today=seat.today)
    monday = clock.monday_of(asked or seat.today)
    sunday = week_end(monday)
    orders, shown, drawn = await run_in_threadpool(_orders_of_week, seat, monday, printer)
    sheets = _Sheets(seat, app_address(request), drawn)
    rings = [ring for found, routes in orders for ring in _rings(found, routes, shown, sheets)]
    if rings:
        title = f"Bench sheets, {day_words(monday)} to {full_day_words(sunday)}"
        paper = bench_sheets(rings, title=title)
    else:
        paper = empty_week(monday, sunday, seat.today)
    return pdf_answer(await printed_while_asked(request, paper), f"bench-sheets-{monday.isoformat()}.pdf")


@router.get("/quotes/{number}.pdf", response_class=Response)
async def paper_of_quote(
    request: Request, number: str, seat: Annotated[Seat, requires(Right.SEE_PRICE)]
) -> Response:
    """The paper of a quote, byte for byte as it was issued; one that is not made yet is made first."""
    return pdf_answer(await paper_as_issued(request, seat, number), f"quote-{number}.pdf")


async def paper_as_issued(request: Request, seat: Seat, number: str) -> bytes:
    """The bytes of a quote's paper out of the book; where it is not made yet it is made and kept."""
    return await kept_or_made(seat.engine, printer_of(request), number, now=seat.now)


async def kept_or_made(engine: Engine, printer: Printer, number: str, *, now: datetime) -> bytes:
    """As `paper_as_issued`, for whoever prints without a request."""
    try:
        return await run_in_threadpool(_kept_paper, engine, number)
    except QuotePdfNotYet:
        told = await run_in_threadpool(_issued_paper, engine, number)
        fresh = await printer.pdf(quote_to_print(told))
        return await run_in_threadpool(_keep_paper, engine, number, fresh, now)


def _kept_paper(engine: Engine, number: str) -> bytes:
    with session(engine) as book:
        return kept_pdf(book, number)


def _issued_paper(engine: Engine, number: str) -> QuotePaper:
    with session(engine) as book:
        return paper_of_issued(book, number)


def _keep_paper(engine: Engine, number: str, paper: bytes, now: datetime) -> bytes:
    """What the book has of the paper from now on: `paper`, or what somebody else had made meanwhile."""
    with session(engine) as book:
        put_pdf(book, number=number, pdf=paper, now=now)
        return kept_pdf(book, number)


def _order(seat: Seat, number: str, printer: str) -> tuple[Order, Routes, dict[int, bytes], Drawn]:
    """The order, the routes of its rings, what its sheets show of its pictures, and their printer."""
    with session(seat.engine) as book:
        found = order(book, number)
        shown = small_jpegs(book, found.pictures)
        return found, routes_of(book, found), shown, asked_printer(book, printer)


def _orders_of_week(
    seat: Seat, monday: date, printer: str
) -> tuple[list[tuple[Order, Routes]], dict[int, bytes], Drawn]:
    """The orders whose rings the week needs, by bench date and number, as `_order` has them."""
    with session(seat.engine) as book:
        found = orders_of_week(book, monday=monday)
        shown = small_jpegs(book, [picture for one in found for picture in one.pictures])
        return [(one, routes_of(book, one)) for one in found], shown, asked_printer(book, printer)


def _pictures(found: Order, position: int, shown: Mapping[int, bytes]) -> tuple[PrintedPicture, ...]:
    """What the sheet of a ring shows: its own pictures, and on the first one those of the whole order."""
    return tuple(
        PrintedPicture(shown[one.id], one.sha256, one.note)
        for one in found.pictures
        if position == (one.ring or 1) and one.id in shown
    )


@dataclass(frozen=True, slots=True)
class _Sheets:
    """Who prints sheets, where a phone finds the app, and the printer they are drawn for."""

    seat: Seat
    address: str
    drawn: Drawn


def proof_signed_by(found: Order, ring: OrderRing) -> str:
    """Who signed the proof of the words that are cut into a ring; '' where nobody did, or there are none."""
    mine = [one for one in found.proofs if one.position == ring.position]
    proof = standing_proof(mine, ring.particulars.words_to_cut)
    return "" if proof is None else proof.read_by


def _rings(found: Order, routes: Routes, shown: Mapping[int, bytes], sheets: _Sheets) -> list[RingToMake]:
    seat = sheets.seat

    def local(moment: datetime) -> datetime:
        return moment.astimezone(ZoneInfo(seat.zone))

    promised_at = found.terms.promised_at
    return [
        RingToMake(
            number=found.number,
            version=found.version,
            position=ring.position,
            count=len(found.rings),
            customer=found.customer.name,
            bench_on=found.terms.bench_on,
            promised_at=None if promised_at is None else local(promised_at),
            wanted_on=found.terms.wanted_on,
            reckoning=ring.reckoning,
            taken_by=ring.taken_by,
            taken_on=local(ring.taken_at).date(),
            reasons=ring.reasons,
            note=found.terms.note,
            avoid=found.terms.avoid,
            particulars=ring.particulars,
            address=f"{sheets.address}{sheet_path(found)}",
            amended_by=amended_by(found),
            printed_on=seat.today,
            waits=found.missing.bench,
            rule=seat.rule,
            pictures=_pictures(found, ring.position, shown),
            operations=routes[ring.position].operations,
            unfit=routes[ring.position].unfit,
            drawn=sheets.drawn,
            proof_signed_by=proof_signed_by(found, ring),
        )
        for ring in found.rings
    ]
