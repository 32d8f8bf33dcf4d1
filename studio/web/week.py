"""The week: what metal its rings need, the rings behind each line, and what wants a look first."""

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.week import NeedLine, NeedRing, WeekOrder
from studio.craft.designs import Profile, Stock
from studio.craft.roles import Right
from studio.craft.units import figure_words
from studio.web.days import day_words
from studio.web.plan_board import PlanBoard, Search
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.week_plan import WeekPlan, cut_from, week_plan
from studio.web.week_reading import WeekAtHand, Window, read_window, week_at_hand
from studio.web.wording import (
    alloy_words,
    count_words,
    counted,
    family_name,
    opened,
    order_short,
    sentence_day_words,
    stock_words,
)

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_WEEK)]
_WIRES = {Profile.ROUND: "round wire", Profile.SQUARE: "square wire"}


@dataclass(frozen=True, slots=True)
class RingEntry:
    """One ring behind a line: whose, on which day, its mark in mm and its metal in g.

    To the last figure kept, so that the marks add up to the line's length on paper as well.
    """

    href: str
    number: str
    customer: str
    bench: str
    mark: str
    grams: str


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """An order behind a line: '118 Fenwright', and ' × 2' where it needs more than one blank."""

    href: str
    words: str
    times: str


@dataclass(frozen=True, slots=True)
class NeedEntry:
    """One line of the need. `goes_on`: the next line is of the same metal, so no rule lies between."""

    anchor: str
    metal: str
    metal_named: str
    width: str
    blanks: int
    length: str
    grams: str
    orders: tuple[OrderEntry, ...]
    rings: tuple[RingEntry, ...]
    rings_words: str
    length_sum: str
    grams_sum: str
    goes_on: bool
    drawer: tuple[str, ...]
    short: int
    short_words: str


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
    form_key: str
    told: str = ""
    undo_href: str = "/week/cuts"


@router.get("/week", response_class=HTMLResponse)
async def week(request: Request, seat: Looks) -> HTMLResponse:
    """The week that holds the day `?from=`; this week without one, or with one that is no day.

    `?to=` ends the window on another day, `?state=agreed` counts only orders of that state.
    """
    return await week_page(request, seat, read_window(request, seat))


@router.get("/week/plan", response_class=HTMLResponse)
async def plan(request: Request, seat: Looks) -> HTMLResponse:
    """The plan alone, as far as it is found by now: what the page lays over what stands."""
    return await week_page(request, seat, read_window(request, seat), template="week/_plan_part.html")


async def week_page(
    request: Request, seat: Seat, asked: Window, *, template: str = "week/page.html"
) -> HTMLResponse:
    """The page of a window, its plan as far as it is found by now."""
    hand = await run_in_threadpool(week_at_hand, seat, asked)
    board: PlanBoard = request.app.state.plan_board
    searches = tuple(board.search(group) for group in hand.groups)
    context = week_context(hand, searches, seat, asked)
    return await run_in_threadpool(page, request, template, context, place=Place.WEEK, status=asked.status)


def week_context(hand: WeekAtHand, searches: Sequence[Search], seat: Seat, asked: Window) -> WeekPage:
    """What the page shows of a week."""
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
        late=tuple(_late(order, seat) for order in found.late),
        late_words=_late_words(len(found.late)),
        unplanned=tuple(_named(order) for order in found.unplanned),
        unplanned_words=_unplanned_words(len(found.unplanned)),
        need=_entries(found.need, seat, cut_from(searches)),
        summary=f"{opened(counted(blanks, 'blank', 'blanks'))}, {grams:.2f} g",
        empty="No ring is planned for the bench in this week, so it needs no metal.",
        plan=week_plan(hand, searches, seat),
        plan_href=f"/week/plan?{asked.query}",
        book_href=f"/week/cuts?{asked.query}",
        paper_href=f"/week/cutting.pdf?{asked.query}",
        stop_href=f"/week/plan/stop?{asked.query}",
        href=asked.href,
        query=asked.query,
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


def _entries(need: Sequence[NeedLine], seat: Seat, marks: Mapping[str, str]) -> tuple[NeedEntry, ...]:
    """The lines, the metal named once for those that lie together."""
    names = [_metal_words(line) for line in need]
    return tuple(
        _entry(
            line,
            place,
            "" if place > 1 and names[place - 2] == name else name,
            goes_on=place < len(names) and names[place] == name,
            seat=seat,
            marks=marks,
        )
        for place, (line, name) in enumerate(zip(need, names, strict=True), 1)
    )


def _entry(
    line: NeedLine, place: int, metal: str, *, goes_on: bool, seat: Seat, marks: Mapping[str, str]
) -> NeedEntry:
    rings = [f"{ring.number}/{ring.position}" for ring in line.rings]
    short = sum(ring not in marks for ring in rings)
    return NeedEntry(
        anchor=f"need-{place}",
        metal=metal,
        metal_named=_metal_words(line),
        width=figure_words(line.width_mm),
        blanks=line.blanks,
        length=f"{line.length_mm:.1f}",
        grams=f"{line.mass_g:.2f}",
        orders=_orders(line.rings),
        rings=tuple(_ring(ring, seat) for ring in line.rings),
        rings_words="The mark" if line.blanks == 1 else f"The {count_words(line.blanks)} marks",
        length_sum=f"{line.length_mm:.3f}",
        grams_sum=f"{line.mass_g:.3f}",
        goes_on=goes_on,
        drawer=tuple(dict.fromkeys(marks[ring] for ring in rings if ring in marks)),
        short=short,
        short_words="" if short in {0, len(rings)} else f"{count_words(short)} of {count_words(len(rings))}",
    )


def _metal_words(line: NeedLine) -> str:
    """What to take from the drawer: '750 yellow, strip 1.6', '925 silver, half-round wire 1.7'."""
    metal = alloy_words(line.alloy)
    if line.profile in _WIRES:
        return f"{metal}, {stock_words(line.profile, line.width_mm, line.thickness_mm)}"
    thick = figure_words(line.thickness_mm)
    if line.stock is Stock.STRIP:
        filed = "" if line.profile is Profile.FLAT else f" for {stock_name(line.profile)}"
        return f"{metal}, strip {thick}{filed}"
    return f"{metal}, {stock_name(line.profile)} wire {thick}"


def stock_name(profile: Profile) -> str:
    """The section's name alone: 'half-round'."""
    return stock_words(profile, 1, 1).partition(" 1")[0]


def _orders(rings: Sequence[NeedRing]) -> tuple[OrderEntry, ...]:
    counts: dict[tuple[str, str], int] = {}
    for ring in rings:
        key = (ring.number, ring.customer_name)
        counts[key] = counts.get(key, 0) + 1
    return tuple(
        OrderEntry(
            f"/orders/{number}",
            f"{order_short(number)} {family_name(name)}",
            f" × {count}" if count > 1 else "",
        )
        for (number, name), count in counts.items()
    )


def _ring(ring: NeedRing, seat: Seat) -> RingEntry:
    return RingEntry(
        href=f"/orders/{ring.number}#ring-{ring.position}",
        number=f"{ring.number}/{ring.position}",
        customer=ring.customer_name,
        bench=day_words(ring.bench_on, today=seat.today),
        mark=f"{ring.mark_mm:.3f}",
        grams=f"{ring.issue_g:.3f}",
    )
