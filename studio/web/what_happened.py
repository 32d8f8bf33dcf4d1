"""What really happened: an order's rings beside what was planned for them, and the kinds together."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import mean
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.rates import minutes_words
from studio.book.what_happened import RingCost, WhatHappened, all_that_happened, what_happened
from studio.craft.drawing import Compared, Svg, compared_bars
from studio.craft.minutes import LEAST_RINGS
from studio.craft.roles import Right
from studio.craft.what_happened import allowances
from studio.papers.money import money_words
from studio.web.render import Place, page
from studio.web.security import Seat, requires

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_ORDERS)]
HREF = "/what-happened"
_WIDE, _NARROW = 620.0, 288.0
_MOST_ADVICE = 3
_COUNTED = f"From {LEAST_RINGS} rings on the price of a new one counts the median of each step by itself."


@dataclass(frozen=True, slots=True)
class HappenedRow:
    """One line of a table: what it is of, planned, real, and the difference."""

    words: str
    planned: str
    real: str
    difference: str
    is_total: bool = False


@dataclass(frozen=True, slots=True)
class HappenedPart:
    """One ring, or all kinds together: sentences, tables, and the pictures of the first table."""

    heading: str
    key: str
    told: tuple[str, ...]
    minutes: tuple[HappenedRow, ...] = ()
    metal: tuple[HappenedRow, ...] = ()
    metal_heads: tuple[str, str, str, str] = ("Metal", "Planned", "Really", "Difference")
    cost: tuple[HappenedRow, ...] = ()
    wide: Svg | None = None
    narrow: Svg | None = None


@dataclass(frozen=True, slots=True)
class WhatHappenedPage:
    """The page. `first` heads the first column of the minutes."""

    title: str
    note: str
    first: str
    parts: tuple[HappenedPart, ...]
    empty: str
    links: tuple[tuple[str, str], ...]


@router.get("/orders/{number}/what-happened", response_class=HTMLResponse)
def of_order(request: Request, seat: Looks, number: str) -> HTMLResponse:
    """What the rings of an order took beside what was planned at the yes."""
    with session(seat.engine) as book:
        rings = what_happened(book, number)
        others = all_that_happened(book) if rings else ()
    context = WhatHappenedPage(
        title="What really happened",
        note=f"Order {number}: planned at the yes beside what was noted at the bench.",
        first="Step",
        parts=tuple(_ring_part(one, others, seat, len(rings)) for one in rings),
        empty="The order is not made yet. Once it is ready, its minutes and weights stand here.",
        links=((f"/orders/{number}", f"Order {number}"), (HREF, "All kinds of rings")),
    )
    return page(request, "what_happened/page.html", context, place=Place.ORDERS)


@router.get(HREF, response_class=HTMLResponse)
def of_kinds(request: Request, seat: Looks) -> HTMLResponse:
    """The latest rings that are made, by kind: means of what was planned and what they took."""
    with session(seat.engine) as book:
        rings = all_that_happened(book)
    kinds: defaultdict[tuple[str, str], list[WhatHappened]] = defaultdict(list)
    for one in rings:
        if one.happened.took:
            kinds[one.kind].append(one)
    context = WhatHappenedPage(
        title="What really happened",
        note="The latest orders that are made, by pattern and metal: means of a ring.",
        first="Kind",
        parts=_kinds_part(kinds) if kinds else (),
        empty="No ring that is made has minutes yet. They are noted at the bench, step by step.",
        links=(("/bench-records", "Measured at the bench"),),
    )
    return page(request, "what_happened/page.html", context, place=Place.ORDERS)


def _ring_part(one: WhatHappened, others: Sequence[WhatHappened], seat: Seat, count: int) -> HappenedPart:
    found = one.happened
    rows = [Compared(minutes_words(step.row), step.planned, step.took) for step in found.steps]
    drawn = [row for row in rows if row.real is not None]
    return HappenedPart(
        heading=_kind_words(one.kind) if count == 1 else f"Ring {one.position}, {_kind_words(one.kind)}",
        key=f"ring-{one.position}",
        told=(*_told(one), *_advice([other for other in others if other.kind == one.kind]), _COUNTED),
        minutes=(
            *(_row(row.words, row.planned, row.real) for row in rows),
            *([_row("All steps", found.planned, found.expected, is_total=True)] if rows else []),
        ),
        metal=_metal(one),
        cost=() if one.cost is None or not seat.may(Right.SEE_COST) else _cost(one.cost),
        wide=_bars(drawn, _WIDE),
        narrow=_bars(drawn, _NARROW),
    )


def _told(one: WhatHappened) -> list[str]:
    """The difference in words, and what the comparison leaves out."""
    found = one.happened
    if not found.took:
        return ["No minutes were noted at the bench, so nothing can be held beside the plan."]
    if not found.planned:
        return [f"It took {found.took:.0f} min; no steps were planned with minutes."]
    more = round(found.expected - found.planned)
    said = (
        "as long as planned" if not more else f"{abs(more)} min {'more' if more > 0 else 'less'} than planned"
    )
    left = f" Steps without a record count as planned: {len(found.untold)}." if found.untold else ""
    return [f"It took {said}.{left}"]


def _advice(rings: Sequence[WhatHappened]) -> list[str]:
    """What the next quote of the kind should allow, in words."""
    found = allowances(one.happened for one in rings)[:_MOST_ADVICE]
    said = [
        f"{abs(one.minutes):.0f} min {'more' if one.minutes > 0 else 'less'} "
        f"at '{minutes_words(one.row)}' ({one.rings} ring{'' if one.rings == 1 else 's'})"
        for one in found
    ]
    if not said:
        return []
    return [f"The next of this kind: allow {'; '.join(said)}."]


def _metal(one: WhatHappened) -> tuple[HappenedRow, ...]:
    found = one.happened
    if found.in_mg is None and found.out_mg is None:
        return ()

    def grams(mg: int | None) -> str:
        return "not weighed" if mg is None else f"{mg / 1000:.2f} g"

    more = None if one.issue_mg is None or found.in_mg is None else found.in_mg - one.issue_mg
    loss = found.loss_mg
    share = f" ({100 * loss / found.in_mg:.1f} %)" if loss is not None and found.in_mg else ""
    return (
        HappenedRow(
            "Weighed out",
            "not known" if one.issue_mg is None else grams(one.issue_mg),
            grams(found.in_mg),
            "" if more is None else f"{more / 1000:+.2f} g",
        ),
        HappenedRow("Finished", "", grams(found.out_mg), ""),
        HappenedRow("Loss: filings, lemel, offcuts", "", grams(loss) + share, "", is_total=True),
    )


def _cost(cost: RingCost) -> tuple[HappenedRow, ...]:
    """By the rates and metal prices of the quote."""
    planned, real = cost.planned, cost.real

    def row(words: str, then: int, now: int, *, is_total: bool = False) -> HappenedRow:
        sign = "+" if now > then else ""
        return HappenedRow(
            words,
            money_words(then, cost.currency),
            money_words(now, cost.currency),
            f"{sign}{money_words(now - then, cost.currency)}",
            is_total,
        )

    return (
        row("Metal", planned.metal_minor, real.metal_minor),
        row("Labour", planned.labour_minor, real.labour_minor),
        row("Overhead", planned.overhead_minor, real.overhead_minor),
        row("Own cost", planned.own_minor, real.own_minor, is_total=True),
        row("Margin", planned.margin_minor, planned.line_minor - real.own_minor, is_total=True),
    )


def _kinds_part(kinds: dict[tuple[str, str], list[WhatHappened]]) -> tuple[HappenedPart, ...]:
    rows = [
        Compared(
            f"{_kind_words(kind)}, {len(rings)} ring{'' if len(rings) == 1 else 's'}",
            mean(one.happened.planned for one in rings) or None,
            mean(one.happened.expected for one in rings),
        )
        for kind, rings in sorted(kinds.items())
    ]
    told = tuple(
        f"{_kind_words(kind)}. {said}" for kind, rings in sorted(kinds.items()) for said in _advice(rings)
    )
    return (
        HappenedPart(
            heading="Minutes of a ring",
            key="kinds",
            told=(*told, _COUNTED),
            minutes=tuple(_row(row.words, row.planned, row.real) for row in rows),
            metal=tuple(_losses(kinds)),
            metal_heads=("Metal lost", "Weighed out, g", "Lost, g", "Lost, %"),
            wide=_bars(rows, _WIDE),
            narrow=_bars(rows, _NARROW),
        ),
    )


def _losses(kinds: dict[tuple[str, str], list[WhatHappened]]) -> list[HappenedRow]:
    """What of the metal weighed out did not come back in the ring, by kind."""
    found = []
    for kind, rings in sorted(kinds.items()):
        weighed = [one.happened for one in rings if one.happened.loss_mg is not None and one.happened.in_mg]
        went_in = sum(one.in_mg or 0 for one in weighed)
        lost = sum(one.loss_mg or 0 for one in weighed)
        if went_in:
            words = f"{_kind_words(kind)}, {len(weighed)} weighed"
            share = f"{100 * lost / went_in:.1f}"
            found.append(HappenedRow(words, f"{went_in / 1000:.2f}", f"{lost / 1000:.2f}", share))
    return found


def _row(words: str, planned: float | None, real: float | None, *, is_total: bool = False) -> HappenedRow:
    def minutes(value: float | None) -> str:
        return "not said" if value is None else f"{value:.0f}"

    more = "" if planned is None or real is None else f"{round(real) - round(planned):+d}"
    return HappenedRow(words, minutes(planned), minutes(real), "0" if more == "+0" else more, is_total)


def _bars(rows: Sequence[Compared], width: float) -> Svg | None:
    if not rows:
        return None
    label = "Minutes planned and taken; each figure stands in the table below"
    return compared_bars(rows, width=width, label=label, unit="min")


def _kind_words(kind: tuple[str, str]) -> str:
    pattern, metal = kind
    return f"{pattern.capitalize()} in {metal}"
