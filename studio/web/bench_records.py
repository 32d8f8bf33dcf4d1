"""All that the bench measured: what it says of every kind of work, which rings count, and a file of them."""

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import mean
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.bench_learning import with_learned
from studio.book.bench_records import BenchRecord, bench_records
from studio.book.engine import session
from studio.book.practices import practice_on
from studio.craft.drawing import Svg, points_within
from studio.craft.learned import Learned, LearnedForming, ThicknessBand
from studio.craft.own_alloys import short_name
from studio.craft.roles import Right
from studio.craft.stretch_learning import THICK_FROM_MM, THIN_BELOW_MM, by_cell
from studio.craft.units import figure_words, shown_length
from studio.papers.days import full_day_words
from studio.web.render import Place, page
from studio.web.security import Seat, requires

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_ORDERS)]
HREF = "/bench-records"
_DRAWN_PX = 280.0
_BANDS = {
    ThicknessBand.THIN: f"under {THIN_BELOW_MM:g} mm",
    ThicknessBand.MIDDLE: f"{THIN_BELOW_MM:g} to {THICK_FROM_MM:g} mm",
    ThicknessBand.THICK: f"from {THICK_FROM_MM:g} mm",
}
_WHEN = {"flat": "on the flat strip", "closed": "after closing"}
_COLUMNS = (
    "ring", "measured_on", "pattern", "put_on", "alloy", "thickness_mm", "before_mm", "after_mm",
    "stretch_percent", "closed_mm", "formed_mm", "tool", "maker", "set_aside",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class KindLine:
    """One kind of work, and what to expect of its next ring."""

    name: str
    mean: str
    span: str
    count: str
    drawn: Svg | None = None


@dataclass(frozen=True, slots=True)
class RecordLine:
    """One ring as it was measured; `aside` is why it does not count."""

    ring: str
    href: str
    day: str
    work: str
    stretch: str
    sizes: str
    by: str
    aside: str


@dataclass(frozen=True, slots=True)
class BenchRecordsPage:
    """The page."""

    title: str
    kinds: tuple[KindLine, ...]
    forming: tuple[KindLine, ...]
    records: tuple[RecordLine, ...]
    waist: str
    csv_href: str = f"{HREF}.csv"
    happened_href: str = "/what-happened"


@router.get(HREF, response_class=HTMLResponse)
def shown(request: Request, seat: Looks) -> HTMLResponse:
    """The page."""
    with session(seat.engine) as book:
        records = bench_records(book)
        practice = practice_on(book, seat.today)
        learned = with_learned(book, seat.today, practice)
    aside = _aside(records)
    context = BenchRecordsPage(
        title="Measured at the bench",
        kinds=tuple(_kind(one, records) for one in learned.learned if one.metal is not None),
        forming=tuple(_forming(one, records) for one in learned.learned_forming if one.metal is not None),
        records=tuple(_line(one, aside.get(one.ring, one.draft.wrong)) for one in reversed(records)),
        waist=_waist(records, practice.anticlastic.correction_mm),
    )
    return page(request, "bench_records/page.html", context, place=Place.ORDERS)


@router.get(f"{HREF}.csv")
def exported(seat: Looks) -> Response:
    """All records as a file for a table: a row a ring, lengths in mm."""
    with session(seat.engine) as book:
        records = bench_records(book)
    aside = _aside(records)
    told = io.StringIO()
    table = csv.writer(told, lineterminator="\r\n")
    table.writerow(_COLUMNS)
    table.writerows(_row(one, aside.get(one.ring, one.draft.wrong)) for one in records)
    headers = {"Content-Disposition": 'attachment; filename="bench-records.csv"'}
    return Response(told.getvalue(), media_type="text/csv; charset=utf-8", headers=headers)


def _aside(records: tuple[BenchRecord, ...]) -> dict[str, str]:
    """Why each record of a stretch is set aside, '' where it counts."""
    of_stretch = [one for record in records if (one := record.of_stretch) is not None]
    return {one.record.ring: one.aside for cell in by_cell(of_stretch).values() for one in cell}


def _kind(one: Learned, records: tuple[BenchRecord, ...]) -> KindLine:
    low = max(0.0, one.mean_percent - one.half_width_percent)
    others = f", from {one.others} of other kinds" if one.others else ""
    thick = "" if one.band is None else _BANDS[one.band]
    return KindLine(
        f"{one.pattern.capitalize()} {_WHEN[one.when]}, {one.metal}, {thick}",
        f"{one.mean_percent:.2f} %",
        f"{low:.2f} to {one.mean_percent + one.half_width_percent:.2f} %",
        f"{one.records}{others}",
        _drawn(one, records),
    )


def _drawn(one: Learned, records: tuple[BenchRecord, ...]) -> Svg | None:
    """The latest rings of a kind as points under what to expect of the next; the list below has each."""
    behind = set(one.rings)
    found = [of.percent for record in records if record.ring in behind and (of := record.of_stretch)]
    if not found:
        return None
    mean_percent, half = one.mean_percent, one.half_width_percent
    low, high = max(0.0, mean_percent - half), mean_percent + half
    told = f"The next between {low:.2f} and {high:.2f} %, in the mean {mean_percent:.2f} %; each ring a point"
    return points_within(found, mean=mean_percent, low=low, high=high, width=_DRAWN_PX, label=told, unit="%")


def _forming(one: LearnedForming, records: tuple[BenchRecord, ...]) -> KindLine:
    """One kind of anticlastic band: by how much its waist is forecast to fall as it is formed."""
    low, high = one.mean_mm - one.half_width_mm, one.mean_mm + one.half_width_mm
    behind = set(one.rings)
    fell = [of.fell_mm for record in records if record.ring in behind and (of := record.of_forming)]
    told = (
        f"The next between {low:.2f} and {high:.2f} mm, in the mean {one.mean_mm:.2f} mm; each ring a point"
    )
    drawn = (
        points_within(fell, mean=one.mean_mm, low=low, high=high, width=_DRAWN_PX, label=told, unit="mm")
        if fell
        else None
    )
    thick = "" if one.band is None else _BANDS[one.band]
    return KindLine(
        f"Anticlastic, {one.metal}, {thick}",
        f"{one.mean_mm:.2f} mm",
        f"{low:.2f} to {high:.2f} mm".replace("-", "−"),
        f"{one.records}{f', from {one.others} of other kinds' if one.others else ''}",
        drawn,
    )


def _waist(records: tuple[BenchRecord, ...], reckoned_mm: float) -> str:
    """How much smaller waists came out than they were closed, beside what is reckoned with."""
    told = [one.draft for one in records if not one.draft.wrong]
    fell = [one.closed_mm - one.formed_mm for one in told if one.closed_mm and one.formed_mm]
    if not fell:
        return ""
    return (
        f"Anticlastic bands: the waist came out {mean(fell):.2f} mm round smaller than it was closed, "
        f"in the mean of {len(fell)}. The practice says {figure_words(reckoned_mm)} mm; the next band is "
        "reckoned by what was measured."
    )


def _line(one: BenchRecord, aside: str) -> RecordLine:
    found, told = one.of_stretch, one.draft
    sizes = [
        f"{name} {shown_length(mm)} mm round"
        for name, mm in (("closed", told.closed_mm), ("formed", told.formed_mm))
        if mm is not None
    ]
    number, _, position = one.ring.partition("/")
    when = "" if one.when is None else f" {_WHEN[one.when]}"
    metal = short_name(one.alloy)
    work = f"{one.pattern.capitalize()}{when}, {metal}, {figure_words(one.thickness_mm)} mm thick"
    return RecordLine(
        ring=one.ring,
        href=f"/orders/{number}/rings/{position}/bench-record",
        day=full_day_words(one.measured_on),
        work=work,
        stretch=""
        if found is None
        else f"{shown_length(found.before_mm)} to {shown_length(found.after_mm)} mm, {found.percent:.1f} %",
        sizes=", ".join(sizes),
        by=", ".join(part for part in (one.maker, told.tool) if part),
        aside=aside.rstrip("."),
    )


def _row(one: BenchRecord, aside: str) -> Iterator[str]:
    found, told = one.of_stretch, one.draft
    cells = (
        one.ring, one.measured_on.isoformat(), one.pattern, one.when or "", one.alloy, one.thickness_mm,
        told.before_mm, told.after_mm, None if found is None else round(found.percent, 3),
        told.closed_mm, told.formed_mm,
        told.tool, one.maker, aside,
    )  # fmt: skip
    return (_plain("" if cell is None else str(cell)) for cell in cells)


def _plain(text: str) -> str:
    """Text that no table program takes for a formula."""
    return f"'{text}" if text[:1] in {"=", "+", "-", "@", "\t", "\r"} else text
