"""The labels of job envelopes over HTTP: one for an order, or all of a week."""

from datetime import date
from typing import Annotated
from zoneinfo import ZoneInfo

from fastapi import APIRouter, Query
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio import clock
from studio.book.engine import session
from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.book.week_orders import orders_of_week
from studio.craft.roles import Right
from studio.papers.days import day_words, full_day_words
from studio.papers.label import EnvelopeToLabel, empty_labels, labels
from studio.web.days import read_date, week_end
from studio.web.printing import app_address, pdf_answer, printed_while_asked
from studio.web.security import Seat, requires
from studio.web.sheets import check_has_sheet, sheet_path

router = APIRouter()


@router.get("/orders/{number}/label.pdf", response_class=Response)
async def label_of_order(
    request: Request,
    number: str,
    seat: Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS, is_bench_work=True)],
) -> Response:
    """The label of the order's envelope. 409 where it has no bench sheet: not agreed yet, or called off."""
    found = await run_in_threadpool(_order, seat, number)
    check_has_sheet(found)
    envelope = _envelope(found, seat, app_address(request))
    paper = await printed_while_asked(request, labels([envelope], title=f"Label {found.number}"))
    return pdf_answer(paper, f"label-{found.number}.pdf")


@router.get("/week/labels.pdf", response_class=Response)
async def labels_of_week(
    request: Request,
    seat: Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS)],
    from_: Annotated[str, Query(alias="from")] = "",
) -> Response:
    """A label for each order with a ring due at the bench in the week of `?from=`, by bench date.

    Any day names its week, counted from Monday; left out, it is this week. A week without any gets one label
    that says so.
    """
    asked = read_date(from_, "from", today=seat.today)
    monday = clock.monday_of(asked or seat.today)
    sunday = week_end(monday)
    found = await run_in_threadpool(_orders, seat, monday)
    envelopes = [_envelope(one, seat, app_address(request)) for one in found]
    paper = empty_labels(monday, sunday)
    if envelopes:
        paper = labels(envelopes, title=f"Labels, {day_words(monday)} to {full_day_words(sunday)}")
    return pdf_answer(await printed_while_asked(request, paper), f"labels-{monday.isoformat()}.pdf")


def _order(seat: Seat, number: str) -> Order:
    with session(seat.engine) as book:
        return order(book, number)


def _orders(seat: Seat, monday: date) -> list[Order]:
    with session(seat.engine) as book:
        return orders_of_week(book, monday=monday)


def _envelope(found: Order, seat: Seat, app: str) -> EnvelopeToLabel:
    promised_at = found.terms.promised_at
    return EnvelopeToLabel(
        number=found.number,
        customer=found.customer.name,
        alloys=tuple(ring.reckoning.alloy.name for ring in found.rings),
        bench_on=found.terms.bench_on,
        promised_at=None if promised_at is None else promised_at.astimezone(ZoneInfo(seat.zone)),
        wanted_on=found.terms.wanted_on,
        address=f"{app}{sheet_path(found)}",
        printed_on=seat.today,
    )
