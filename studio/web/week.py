"""The week: what metal its rings need, the rings behind each line, and what wants a look first."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated
from urllib.parse import parse_qsl

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.week import WeekOrder
from studio.craft.roles import Right
from studio.web.bench_load import HREF as LOAD_HREF
from studio.web.bench_load import hours_of_weeks
from studio.web.counter_choices import Choice
from studio.web.days import day_words
from studio.web.plan_board import PlanBoard, Search
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.week_lines import NeedEntry, need_entries
from studio.web.week_plan import WeekPlan, blade_choices, cut_from, week_plan
from studio.web.week_reading import WeekAtHand, Window, read_window, week_at_hand
from studio.web.wording import (
    counted,
    opened,
    sentence_day_words,
)

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_WEEK)]
_PLAN_PART = "week/_plan_part.html"


@dataclass(frozen=True, slots=True)
class NamedOrder:
    """An order named above the table, with the day it hangs on."""

    href: str
    words: str
    note: str


@dataclass(frozen=True, slots=True)
class WeekPage:
    """The week as shown."""

    title: str
    heading: str
    days: str
    before_href: str
    before: str
    after_href: str
    after: str
    print_href: str
    labels_href: str
    hours: str
    late: tuple[NamedOrder, ...]
    late_words: str
    unplanned: tuple[NamedOrder, ...]
    unplanned_words: str
    need: tuple[NeedEntry, ...]
    summary: str
    empty: str
    plan: WeekPlan
    plan_href: str
    book_href: str
    paper_href: str
    stop_href: str
    href: str
    query: str
    blades: tuple[Choice, ...]
    blade: str
    hidden: tuple[tuple[str, str], ...]
    form_key: str
    told: str = ""
    undo_href: str = "/week/cuts"
    week_href: str = "/week"
    printers_href: str = "/printers"
    load_href: str = LOAD_HREF


@router.get("/week", response_class=HTMLResponse)
async def week(request: Request, seat: Looks) -> HTMLResponse:
    """The week that holds the day `?from=`; this week without one, or with one that is no day.

    `?to=` ends the window on another day, `?state=agreed` counts only orders of that state.
    """
    return await week_page(request, seat, read_window(request, seat))


@router.get("/week/plan", response_class=HTMLResponse)
async def plan(request: Request, seat: Looks) -> HTMLResponse:
    """The plan alone, as far as it is found by now: what the page lays over what stands."""
    return await week_page(request, seat, read_window(request, seat), template=_PLAN_PART)


async def week_page(
    request: Request, seat: Seat, asked: Window, *, template: str = "week/page.html"
) -> HTMLResponse:
    """The page of a window, its plan as far as it is found by now."""
    hand = await run_in_threadpool(week_at_hand, seat, asked)
    board: PlanBoard = request.app.state.plan_board
    searches = tuple(board.search(group) for group in hand.groups)
    hours = "" if template == _PLAN_PART else await run_in_threadpool(hours_of_weeks, seat, hand.week)
    context = week_context(hand, searches, seat, asked, hours)
    return await run_in_threadpool(page, request, template, context, place=Place.WEEK, status=asked.status)


def week_context(
    hand: WeekAtHand, searches: Sequence[Search], seat: Seat, asked: Window, hours: str
) -> WeekPage:
    """What the page shows of a week; `hours` are those of its bench in words."""
    found = hand.week
    before, after = found.from_ - timedelta(days=7), found.from_ + timedelta(days=7)
    start, end = sentence_day_words(found.from_), sentence_day_words(found.to)
    year = "" if found.to.year == seat.today.year else f" {found.to.year}"
    blanks = sum(line.blanks for line in found.need)
    grams = sum(line.mass_g for line in found.need)
    heading = f"Week {_number(found.from_)}"
    if asked.until is not None:
        heading = f"Weeks {_number(found.from_)} to {_number(found.to)}"
    return WeekPage(
        title=heading,
        heading=heading,
        days=f"{start} to {end}{year}{asked.states_words}",
        before_href=f"/week?from={before.isoformat()}",
        before=f"Week {_number(before)}",
        after_href=f"/week?from={after.isoformat()}",
        after=f"Week {_number(after)}",
        print_href=f"/week/papers.pdf?from={found.from_.isoformat()}",
        labels_href=f"/week/labels.pdf?from={found.from_.isoformat()}",
        hours=hours,
        late=tuple(_late(order, seat) for order in found.late),
        late_words=_late_words(len(found.late)),
        unplanned=tuple(_named(order) for order in found.unplanned),
        unplanned_words=_unplanned_words(len(found.unplanned)),
        need=need_entries(found.need, seat, cut_from(searches)),
        summary=f"{opened(counted(blanks, 'blank', 'blanks'))}, {grams:.2f} g",
        empty="No ring is planned for the bench in this week, so it needs no metal.",
        plan=week_plan(hand, searches, seat),
        plan_href=f"/week/plan?{asked.query}",
        book_href=f"/week/cuts?{asked.query}",
        paper_href=f"/week/cutting.pdf?{asked.query}",
        stop_href=f"/week/plan/stop?{asked.query}",
        href=asked.href,
        query=asked.query,
        blades=blade_choices(),
        blade=asked.blade,
        hidden=tuple((name, value) for name, value in parse_qsl(asked.query) if name != "blade"),
        form_key=secrets.token_urlsafe(18),
        told=asked.told,
    )


def _number(monday: date) -> int:
    """The week's number by ISO 8601: week 1 is the one that holds the year's first Thursday."""
    return monday.isocalendar().week


def _late_words(count: int) -> str:
    return f"{opened(counted(count, 'order', 'orders'))} whose bench date passed before this week, not ready"


def _unplanned_words(count: int) -> str:
    return f"{opened(counted(count, 'order', 'orders'))} agreed without a bench date"


def _late(order: WeekOrder, seat: Seat) -> NamedOrder:
    day = "" if order.bench_on is None else f"bench {day_words(order.bench_on, today=seat.today)}, "
    return NamedOrder(
        f"/orders/{order.number}", f"{order.number} {order.customer_name}", f"{day}{order.state}"
    )


def _named(order: WeekOrder) -> NamedOrder:
    return NamedOrder(f"/orders/{order.number}#plan", f"{order.number} {order.customer_name}", "")
