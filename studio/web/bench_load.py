"""The load of the bench by week: hours of the rings due there beside hours really noted."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio import clock
from studio.book.bench_load import bench_load
from studio.book.engine import session
from studio.book.week import Week
from studio.craft.bench_load import WeekLoad, usual_minutes
from studio.craft.drawing import Columns, Compared, Svg, columns_over_time
from studio.craft.roles import Right
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import counted, joined, opened

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_WEEK)]
HREF = "/week/load"
WEEKS_BACK, WEEKS_AHEAD = 8, 6
_WEEK = timedelta(days=7)
_WIDE, _NARROW, _HIGH = 620.0, 288.0, 200.0


@dataclass(frozen=True, slots=True)
class LoadRow:
    """One week: its number and days, rings, hours planned, hours noted."""

    week: str
    href: str
    days: str
    rings: str
    planned: str
    noted: str
    is_now: bool


@dataclass(frozen=True, slots=True)
class LoadPage:
    """The page; without a picture where no week has an hour."""

    told: tuple[str, ...]
    rows: tuple[LoadRow, ...]
    wide: Svg | None
    narrow: Svg | None
    links: tuple[tuple[str, str], ...] = (
        ("/week", "This week"),
        ("/bench", "At the bench"),
        ("/what-happened", "What really happened"),
    )
    title: str = "The load of the bench"


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Looks) -> HTMLResponse:
    """The last weeks, this one, and the next."""
    this = clock.monday_of(seat.today)
    mondays = [this + _WEEK * place for place in range(-WEEKS_BACK, WEEKS_AHEAD + 1)]
    with session(seat.engine) as book:
        weeks = bench_load(book, mondays=mondays, now=seat.now)
    usual = usual_minutes(weeks, this)
    has_any = any(one.planned or one.noted for one in weeks)
    context = LoadPage(
        told=tuple(_told(weeks, this, usual)),
        rows=tuple(_row(one, this) for one in weeks),
        wide=_drawn(weeks, this, usual, _WIDE) if has_any else None,
        narrow=_drawn(weeks, this, usual, _NARROW) if has_any else None,
    )
    return page(request, "bench_load/page.html", context, place=Place.WEEK)


def hours_words(minutes: float) -> str:
    """Minutes as hours to a tenth: 95 gives '1.6'."""
    return f"{minutes / 60:.1f}"


def hours_of_weeks(seat: Seat, found: Week) -> str:
    """The hours of the weeks of a window, in a sentence; its last week is taken whole."""
    mondays = [found.from_ + _WEEK * place for place in range((found.to - found.from_).days // 7 + 1)]
    with session(seat.engine) as book:
        weeks = bench_load(book, mondays=mondays, now=seat.now)
    noted = [one.noted for one in weeks if one.noted is not None]
    return _hours_words(
        sum(one.rings for one in weeks), sum(one.planned for one in weeks), sum(noted) if noted else None
    )


def _hours_words(rings: int, planned: float, noted: float | None) -> str:
    """As a sentence: '12.5 hours are planned at the bench for three rings; 9.0 hours are noted.'."""
    said = (
        f"{hours_words(planned)} hours are planned at the bench for {counted(rings, 'ring', 'rings')}"
        if rings
        else "No ring is planned for the bench"
    )
    if noted is None:
        return f"{said}."
    return f"{said}; {f'{hours_words(noted)} hours are' if noted else 'none are'} noted."


def _told(weeks: Sequence[WeekLoad], this: date, usual: float | None) -> list[str]:
    """What the picture says, in words."""
    now = next(one for one in weeks if one.monday == this)
    said = [f"This week: {_hours_words(now.rings, now.planned, now.noted)}"]
    if usual is None:
        said.append("What the bench usually does is said once three weeks that are over have hours noted.")
    else:
        said.append(f"The bench usually notes {hours_words(usual)} hours a week: the broken line.")
        over = [one for one in weeks if one.monday >= this and one.planned > usual]
        if over:
            names = joined([str(_number(one.monday)) for one in over])
            said.append(f"More is planned than that in week{'s' if len(over) > 1 else ''} {names}.")
    untold = sum(one.untold for one in weeks)
    if untold:
        said.append(
            f"{opened(counted(untold, 'ring has', 'rings have'))} steps whose minutes nobody has said yet."
        )
    return said


def _row(one: WeekLoad, this: date) -> LoadRow:
    return LoadRow(
        week=f"Week {_number(one.monday)}",
        href=f"/week?from={one.monday.isoformat()}",
        days=_days_words(one.monday, one.monday + timedelta(days=6)),
        rings=str(one.rings),
        planned=hours_words(one.planned),
        noted="" if one.noted is None else hours_words(one.noted),
        is_now=one.monday == this,
    )


def _drawn(weeks: Sequence[WeekLoad], this: date, usual: float | None, width: float) -> Svg:
    rows = [
        Compared(str(_number(one.monday)), one.planned / 60, None if one.noted is None else one.noted / 60)
        for one in weeks
    ]
    place = next(place for place, one in enumerate(weeks) if one.monday == this)
    told = Columns(
        rows, "hours", is_paired=True, now=place, now_words="this week",
        limit=None if usual is None else usual / 60,
    )  # fmt: skip
    label = "Hours planned and hours noted by week; each figure stands in the table below"
    return columns_over_time(told, width=width, height=_HIGH, label=label)


def _days_words(first: date, last: date) -> str:
    """The days of a week as short as may be: '9 to 15 Nov', '30 Nov to 6 Dec'."""
    start = f"{first.day}" if first.month == last.month else f"{first.day} {first:%b}"
    return f"{start} to {last.day} {last:%b}"


def _number(monday: date) -> int:
    """The week's number by ISO 8601."""
    return monday.isocalendar().week
