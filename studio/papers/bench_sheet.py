"""The bench sheet: one ring on one page, with all that the maker marks, does, heeds and writes down."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial

from studio.craft.designs import Pattern, Profile, Stock
from studio.craft.directions import apart
from studio.craft.drawing import (
    Svg,
    blank_within,
    check_bar_across,
    check_bar_down,
    sheet_section,
    sheet_views,
    squared_strip,
    stretched,
    warning_triangle,
)
from studio.craft.hallmark import HallmarkRule
from studio.craft.operations import Measure, Operation, lines_of_sheet
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.practice import LengthRule
from studio.craft.printers import FOR_ANY, Drawn, PaperSize
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import Reckoning
from studio.craft.route import route
from studio.craft.sheet_gauges import gauge_words
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.stretch import expected_words
from studio.craft.strip_zones import strip_zones
from studio.craft.units import figure_words
from studio.papers.days import day_and_hour, day_words, full_day_words
from studio.papers.figures import spoken
from studio.papers.paper import Asset, Paper
from studio.papers.qr import LOW_SHEET_CODE_MM, SHEET_CODE_MM, code_of_order
from studio.papers.remarks import Remark, remarks
from studio.papers.sheet_marks import MarkTable, mark_table
from studio.papers.sheet_pictures import (
    PrintedPicture,
    SheetPicture,
    sheet_assets,
    sheet_pictures,
    where_notes_stand,
)

TEMPLATE = "bench_sheet"
_RULES = {LengthRule.CENTROID: "centroid", LengthRule.MID_LINE: "mid-line", LengthRule.DIN: "DIN 6935"}


@dataclass(frozen=True, slots=True)
class RingToMake:
    """One ring of an order with all that its sheet tells. No contact, no price; the pictures it is made by.

    `promised_at` is in the studio's own time zone; `address` is the order's page, for the square code;
    `operations` are those of its route with what the studio changed, None as the rules lay them down; `unfit`
    says what of the changes does not fit it any more. `version` is the order's, `printed_on` the day the
    sheet is printed, `waits` what still holds up the work on the order ('deposit'); `amended_by` is the
    number of the amendment it is made by, '' for a quote; `drawn` is the printer the sheet is drawn for;
    `proof_signed_by` who signed the proof of its words, '' while nobody did.
    """

    number: str
    version: int
    position: int
    count: int
    customer: str
    bench_on: date | None
    promised_at: datetime | None
    wanted_on: date | None
    reckoning: Reckoning
    taken_by: str | None
    taken_on: date | None
    reasons: Mapping[str, str]
    note: str
    address: str
    printed_on: date
    waits: tuple[str, ...] = ()
    amended_by: str = ""
    rule: HallmarkRule = HallmarkRule.NONE
    avoid: str | None = None
    particulars: Particulars = NOT_ASKED
    pictures: tuple[PrintedPicture, ...] = ()
    operations: tuple[Operation, ...] | None = None
    unfit: tuple[str, ...] = ()
    drawn: Drawn = FOR_ANY
    proof_signed_by: str = ""


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """One of the four figures under the head: what it is, the figure, its unit, one line of sense."""

    label: str
    value: str
    unit: str
    sense: str


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step with its number, ready to print."""

    number: int
    name: str
    text: str
    caution: str | None
    measure: Measure | None


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """All that the paper shows, ready to print."""

    number: str
    customer: str
    ring: str
    not_yet: str
    bench_day: str
    promised: str
    foot: str
    drawn_for: str
    code: Svg
    figures: tuple[KeyFigure, ...]
    remarks: tuple[Remark, ...]
    blank: Svg
    squared: Svg | None
    squaring: str
    stretch: str
    views: Svg
    section: Svg
    across: Svg
    down: Svg
    triangle: Svg
    marks: MarkTable
    steps: tuple[SheetStep, ...]
    pictures: tuple[SheetPicture, ...]
    assets: Mapping[str, Asset]
    notes: str


@dataclass(frozen=True, slots=True)
class EmptyWeek:
    """The one page of a week in which nothing is due at the bench."""

    week: str
    printed: str


def bench_sheet(ring: RingToMake) -> BenchSheet:
    """The page of one ring, worked out and put into words."""
    reckoning, drawn = ring.reckoning, ring.drawn

    def to_scale(svg: Svg) -> Svg:
        return spoken(stretched(svg, drawn.times_across, drawn.times_down))

    zones = strip_zones(reckoning, ring.particulars, ring.rule)
    squared = squared_strip(reckoning, zones, drawn.room_mm)
    return BenchSheet(
        number=ring.number,
        customer=apart(ring.customer),
        ring=f"ring {ring.position} of {ring.count}",
        not_yet=f"Not yet for the bench: {', '.join(ring.waits)}" if ring.waits else "",
        bench_day="no day yet" if ring.bench_on is None else full_day_words(ring.bench_on),
        promised=_promised(ring),
        foot=f"{ring.number}, ring {ring.position} of {ring.count}, version {ring.version}, "
        f"{full_day_words(ring.printed_on)}",
        drawn_for=drawn_for_words(drawn),
        code=code_of_order(ring.number, ring.address, _code_mm(ring)),
        figures=_figures(reckoning),
        remarks=remarks(
            reckoning,
            taken_by=ring.taken_by,
            taken_on=ring.taken_on,
            reasons=ring.reasons,
            note=ring.note,
            avoid=ring.avoid,
            rule=ring.rule,
            particulars=ring.particulars,
            amended_by=ring.amended_by,
            unfit=ring.unfit,
            proof_signed_by=ring.proof_signed_by,
        ),
        blank=to_scale(blank_within(reckoning, drawn.room_mm)),
        squared=None if squared is None else to_scale(squared),
        squaring=f"Leave {figure_words(reckoning.trim_mm / 2)} at each end to square off, broken lines",
        stretch=_stretch(reckoning),
        views=to_scale(sheet_views(reckoning)),
        section=to_scale(sheet_section(reckoning)),
        across=to_scale(check_bar_across()),
        down=to_scale(check_bar_down()),
        triangle=spoken(warning_triangle(), "Caution"),
        marks=mark_table(reckoning),
        steps=tuple(
            SheetStep(number, step.name, step.text, step.caution, step.measure)
            for number, step in enumerate(lines_of_sheet(_operations(ring)), start=1)
        ),
        pictures=sheet_pictures(ring.pictures),
        assets=sheet_assets(ring.pictures),
        notes=where_notes_stand(ring.pictures),
    )


def _code_mm(ring: RingToMake) -> float:
    """The side of the code: smaller under the line of what the sheet waits for, and on a small page."""
    return LOW_SHEET_CODE_MM if ring.waits or ring.drawn.paper is PaperSize.A5 else SHEET_CODE_MM


def _operations(ring: RingToMake) -> tuple[Operation, ...]:
    if ring.operations is not None:
        return ring.operations
    return route(ring.reckoning, ring.particulars, ring.rule)


def bench_sheets(rings: Sequence[RingToMake], *, title: str) -> Paper:
    """The bench sheets of `rings` in turn, each ring beginning a page, all for the printer of the first.

    At least one ring.
    """
    return Paper(
        TEMPLATE, tuple(partial(bench_sheet, ring) for ring in rings), title, size=rings[0].drawn.paper
    )


def empty_week(monday: date, sunday: date, printed_on: date) -> Paper:
    """One page that says no ring is due at the bench in the week."""
    week = f"{day_words(monday)} to {full_day_words(sunday)}"
    page = partial(EmptyWeek, week=week, printed=full_day_words(printed_on))
    return Paper("empty_week", (page,), f"Bench sheets, {week}")


def drawn_for_words(drawn: Drawn) -> str:
    """What the foot says: 'Drawn for Back room, print it there only', or '' for any printer."""
    return f"Drawn for {apart(drawn.name)}, print it there only" if drawn.is_corrected else ""


def _promised(ring: RingToMake) -> str:
    if ring.promised_at is not None:
        return f"promised {day_and_hour(ring.promised_at)}"
    if ring.wanted_on is not None:
        return f"wanted by {day_words(ring.wanted_on)}"
    return "no day promised"


def _figures(reckoning: Reckoning) -> tuple[KeyFigure, ...]:
    design = reckoning.design
    true = f"true {reckoning.true_length_mm:.2f}"
    for rule, length_mm in reckoning.lengths.beside[:1]:
        true += f", {_RULES[rule]} {length_mm:.2f}"
    sides = f"{figure_words(design.width_mm)} × {figure_words(design.thickness_mm)}"
    if design.profile is Profile.ROUND:
        sides = f"Ø {figure_words(design.width_mm)}"
    size = reckoning.sizes[reckoning.finger.system]
    return (
        KeyFigure("Mark", f"{reckoning.mark_mm:.1f}", "mm", true),
        KeyFigure(_stock(reckoning), sides, "mm", ", ".join((reckoning.alloy.name, *_gauge(reckoning)))),
        KeyFigure(
            f"Size, {SYSTEM_NAMES[reckoning.finger.system]}",
            f"{reckoning.circumference_mm:.1f}" if size is None else size.label,
            "mm" if size is None else "",
            f"{reckoning.circumference_mm:.2f} round, {reckoning.diameter_mm:.2f} across",
        ),
        KeyFigure("Issue", f"{reckoning.issue_g:.2f}", "g", f"finished {reckoning.finished_g:.1f} g"),
    )


def _gauge(reckoning: Reckoning) -> tuple[str, ...]:
    """The gauge nearest to the stock, where the studio prints one."""
    scale = reckoning.practice.reading.printed_scale
    return () if scale is None else (gauge_words(reckoning.design.thickness_mm, scale),)


def _stock(reckoning: Reckoning) -> str:
    """What to take from the drawer: 'Strip', 'Strip, filed half-round', 'Half-round wire'."""
    profile, stock = reckoning.design.profile, reckoning.design.stock
    name = PROFILE_NAMES[profile]
    if stock is Stock.STRIP:
        return "Strip" if profile is Profile.FLAT else f"Strip, filed {name}"
    words = name if name.endswith("wire") else f"{name} wire"
    return words[0].upper() + words[1:]


def _stretch(reckoning: Reckoning) -> str:
    """What the pattern adds to the length, nine times in ten, and which rings say so."""
    if reckoning.design.pattern in {Pattern.PLAIN, Pattern.ROLLED}:
        return ""
    told = expected_words(reckoning.design, reckoning.stretch, reckoning.practice)
    return f"The pattern adds {told}"
