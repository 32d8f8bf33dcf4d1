"""The list of the rings at the bench: today's and this week's, the nearest day first."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio import clock
from studio.book.bench_list import BenchLine, bench_lines
from studio.book.engine import session
from studio.craft.directions import apart
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.web.days import week_end
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import (
    counted,
    design_words,
    opened,
    sentence_day_words,
    since_words,
    size_words,
)

router = APIRouter()

HREF = "/bench"
Bench = Annotated[Seat, requires(Right.MOVE_ORDERS, is_bench_work=True)]


@dataclass(frozen=True, slots=True)
class RingEntry:
    """One ring: its order and customer, what it is, and how far it has come."""

    href: str
    name: str
    ring: str
    note: str


@dataclass(frozen=True, slots=True)
class BenchDayPart:
    """The rings of one day; `is_late` where the day is past."""

    heading: str
    is_late: bool
    rings: tuple[RingEntry, ...]


@dataclass(frozen=True, slots=True)
class BenchListPage:
    """The page."""

    title: str
    day: str
    person: str
    is_bench: bool
    days: tuple[BenchDayPart, ...]
    hands_href: str = "/bench/hands"
    people_href: str = "/bench/people"
    load_href: str = "/week/load"


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Bench) -> HTMLResponse:
    """The rings at the bench and of this week."""
    with session(seat.engine) as book:
        lines = bench_lines(book, until=week_end(clock.monday_of(seat.today)))
    days = dict.fromkeys(line.bench_on for line in lines)
    context = BenchListPage(
        title="At the bench",
        day=opened(sentence_day_words(seat.today)),
        person=apart(seat.actor.name),
        is_bench=seat.is_bench,
        days=tuple(
            BenchDayPart(
                _heading(day, seat.today),
                is_late=day is not None and day < seat.today,
                rings=tuple(_entry(line, seat) for line in lines if line.bench_on == day),
            )
            for day in days
        ),
    )
    return page(request, "bench/list.html", context, place=Place.BENCH, is_bare=seat.is_bench)


def _heading(day: date | None, today: date) -> str:
    if day is None:
        return "No day yet"
    return "Today" if day == today else opened(sentence_day_words(day))


def _entry(line: BenchLine, seat: Seat) -> RingEntry:
    ring = line.ring
    what = design_words(ring.profile, ring.width_mm, ring.thickness_mm, ring.pattern, ring.alloy)
    of = f", ring {ring.position} of {line.count}" if line.count > 1 else ""
    return RingEntry(
        href=f"{HREF}/{line.number}/{ring.position}",
        name=f"{line.number} {apart(line.customer_name)}{of}",
        ring=f"{size_words(ring.system, ring.label)}, {what}",
        note=_note(line, seat),
    )


def _note(line: BenchLine, seat: Seat) -> str:
    """How far it has come: 'three steps done, Bas is at it since 10:12', 'not at the bench yet'."""
    if line.state is not State.AT_THE_BENCH:
        return "Not at the bench yet"
    done = sum(step.is_done for step in line.work.steps.values())
    told = counted(done, "step done", "steps done") if done else "not begun"
    if running := line.work.running:
        told += f", {apart(running.by)} is at it since {since_words(running.since, seat.zone, seat.today)}"
    return opened(told)
