"""Drawings for paper, black on white at true scale: the unit is the millimetre, in markup as on the sheet.

Outlines lie wholly on the metal's side of the true edge, so what is laid against the paper meets the line's
outer edge: a blank drawn 61 mm long measures 61 mm over its outline.
"""

from dataclasses import replace

from studio.craft.designs import Pattern, PatternWhen, Profile
from studio.craft.drawing.lines import PAPER_PEN, SANS, Figure, Pen, Spot, across, chain_line
from studio.craft.drawing.outlines import outside_radius, section_height, seen_width
from studio.craft.drawing.svg import Svg, drawing, element, text
from studio.craft.drawing.type_widths import first_that_fits, text_width
from studio.craft.drawing.views import blank_view, front, has_worked_face, section_view, side_view
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words

POINT_MM = 25.4 / 72
TEXT_MM = 11 * POINT_MM
LEAD_MM = 13.5 * POINT_MM
BLANK_LINE_MM = 0.25
CHECK_MM = 100.0
_OVER = 4.0
_FACE = {
    Pattern.HAMMERED: "hammer this face",
    Pattern.STAMPED: "stamp this face",
    Pattern.ROLLED: "rolled face up",
}


def true_size_pen(reckoning: Reckoning) -> Pen:
    """The pen for true size: on metal under 1.2 mm the heavy line would fill the ring, so it is thinner."""
    return PAPER_PEN if reckoning.design.thickness_mm >= 1.2 else replace(PAPER_PEN, outline=0.25)


def sheet_blank(reckoning: Reckoning) -> Svg:
    """The blank at true scale with its mark above and its width at the right.

    The outline is 0.25 mm and inset: its outer edge is the mark. Broken lines stand half the trim in,
    where the strip ends before any pattern. Width and height of the drawing are in mm.
    """
    design = reckoning.design
    left, top = 0.4, 12.0
    end, foot = left + reckoning.mark_mm, top + design.width_mm
    width = Figure(figure_words(design.width_mm), LEAD_MM, 600)
    words = _FACE.get(design.pattern, "") if design.pattern_when is not PatternWhen.CLOSED else ""
    told = ""
    if (
        words
        and design.width_mm >= TEXT_MM * 1.15
        and first_that_fits((words,), reckoning.flat_length_mm - 6, TEXT_MM)
    ):
        middle = (left + end) / 2
        told = text(words, middle, (top + foot) / 2 + TEXT_MM * 0.33, TEXT_MM, text_anchor="middle")
    beside = 9 + text_width(width.words, width.size, 600)
    # A slim blank leaves no room for its width between the arrows; the figure then stands right of them.
    line = end + 5
    span = element(
        "path",
        d=f"M{end + 1:.2f} {top:.2f}H{line + 1.5:.2f}M{end + 1:.2f} {foot:.2f}H{line + 1.5:.2f}",
        stroke=PAPER_PEN.ink,
        stroke_width=PAPER_PEN.thin,
    )
    heads = _upright_arrows(line, top, foot)
    figure = text(
        width.words,
        line + 2.6,
        (top + foot) / 2 + LEAD_MM * 0.33,
        LEAD_MM,
        font_weight="600",
        fill=PAPER_PEN.ink,
    )
    mark = Figure(f"mark {reckoning.mark_mm:.1f}", LEAD_MM, 600)
    return drawing(
        blank_view(PAPER_PEN, reckoning, Spot(left, top, 1), inset=BLANK_LINE_MM / 2),
        told,
        across(PAPER_PEN, (left, end), mark, line=top - 4, edge=top),
        span,
        heads,
        figure,
        width=end + beside,
        height=max(foot, (top + foot) / 2 + 4) + 0.5,
        unit="mm",
        label=f"The blank at true scale, {reckoning.mark_mm:.1f} mm long and {width.words} mm wide,"
        f" its ends trued {figure_words(reckoning.trim_mm / 2)} mm in.",
        font_family=SANS,
    )


def _upright_arrows(x: float, top: float, foot: float) -> str:
    """An upright dimension line with its arrows, pressing from outside where they would meet."""
    long, half = 2.25, 0.375
    is_slim = foot - top < 2 * long + 1
    way = -1 if is_slim else 1
    reach = 4.0 if is_slim else 0.0
    heads = "".join(
        f"M{x:.2f} {tip:.2f}L{x - half:.2f} {tip + sign * long:.2f}L{x + half:.2f} {tip + sign * long:.2f}Z"
        for tip, sign in ((top, way), (foot, -way))
    )
    line = element(
        "path",
        d=f"M{x:.2f} {top - reach:.2f}V{foot + reach:.2f}",
        stroke=PAPER_PEN.ink,
        stroke_width=PAPER_PEN.thin,
    )
    return line + element("path", d=heads, fill=PAPER_PEN.ink)


def sheet_views(reckoning: Reckoning) -> Svg:
    """Front and side of the ring at true size on one centre line, with the words 'true size' below."""
    pen = true_size_pen(reckoning)
    radius, wide = outside_radius(reckoning), seen_width(reckoning)
    x = y = radius + _OVER
    middle = x + radius + 5.5 + wide / 2
    width = middle + wide / 2 + _OVER
    axis = chain_line(
        pen,
        f"M{x - radius - _OVER:.2f} {y:.2f}H{middle - wide / 2:.2f}"
        f"M{x:.2f} {y - radius - _OVER:.2f}V{y + radius + _OVER:.2f}",
    )
    foot = y + radius + _OVER
    return drawing(
        front(pen, reckoning, Spot(x, y, 1), inset=pen.outline / 2),
        axis,
        side_view(pen, reckoning, Spot(middle, y, 1), over=_OVER, inset=pen.outline / 2),
        text("true size", (x + middle) / 2, foot + TEXT_MM * 0.9, TEXT_MM, text_anchor="middle"),
        width=width,
        height=foot + TEXT_MM * 1.3,
        unit="mm",
        label=f"The ring at true size from the front, {reckoning.diameter_mm:.2f} mm inside, and the side,"
        f" {figure_words(reckoning.finished_width_mm)} mm wide.",
        font_family=SANS,
    )


def sheet_section(reckoning: Reckoning, room_mm: float = 60.0) -> Svg:
    """The section three times as large, twice or once where that is wider than `room_mm`; it says which."""
    design = reckoning.design
    wide_mm, high_mm = seen_width(reckoning), section_height(reckoning)
    times = next((n for n in (3, 2) if n * wide_mm + 2 * _OVER <= room_mm), 1)
    words = {3: "three times as large", 2: "twice as large", 1: "true size"}[times]
    sides = f"{figure_words(design.width_mm)} × {figure_words(design.thickness_mm)}"
    if design.profile is Profile.ROUND:
        sides = f"Ø {figure_words(design.width_mm)}"
    measures = f"{sides}, {words}"
    face = "worked face" if has_worked_face(reckoning) else ""
    half, rise = wide_mm * times / 2, high_mm * times / 2
    width = max(2 * (half + _OVER), text_width(measures, TEXT_MM), text_width(face, TEXT_MM)) + 0.6
    x, y = width / 2, (TEXT_MM * 1.5 if face else 0.5) + rise
    return drawing(
        text(face, x, TEXT_MM, TEXT_MM, text_anchor="middle") if face else "",
        section_view(PAPER_PEN, reckoning, Spot(x, y, times), over=_OVER),
        text(measures, x, y + rise + TEXT_MM * 1.5, TEXT_MM, text_anchor="middle"),
        width=width,
        height=y + rise + TEXT_MM * 1.9,
        unit="mm",
        label=f"The section, {measures}.",
        font_family=SANS,
    )


def _ticks() -> list[tuple[float, float]]:
    """Every tick of a check bar: how far along, how long. Ends 5 mm, the middle 3.5, the other tens 2."""
    return [(10.0 * i, 5.0 if i in (0, 10) else 3.5 if i == 5 else 2.0) for i in range(11)]


def check_bar_across() -> Svg:
    """A bar of 100 mm, tick middle to tick middle, to hold a ruler against before anything is marked."""
    start = PAPER_PEN.thin
    data = f"M{start:.2f} 5V5M{start:.2f} 5H{start + CHECK_MM:.2f}" + "".join(
        f"M{start + at:.2f} 5v{-long:.2f}" for at, long in _ticks()
    )
    return drawing(
        element("path", d=data, fill="none", stroke=PAPER_PEN.ink, stroke_width=0.25, data_part="check"),
        width=CHECK_MM + 2 * start,
        height=5.25,
        unit="mm",
        label="A bar that measures 100 mm across when the sheet is printed true.",
    )


def check_bar_down() -> Svg:
    """A bar of 100 mm downward, tick middle to tick middle, its question beside it, read from the right."""
    start = PAPER_PEN.thin
    data = f"M3 {start:.2f}V{start + CHECK_MM:.2f}" + "".join(
        f"M{3 - long / 2 if long == 5 else 3:.2f} {start + at:.2f}h{long:.2f}" for at, long in _ticks()
    )
    x, y = 9.6, start + CHECK_MM / 2
    return drawing(
        element("path", d=data, fill="none", stroke=PAPER_PEN.ink, stroke_width=0.25, data_part="check"),
        text("100 mm down?", x, y, TEXT_MM, text_anchor="middle", transform=f"rotate(-90 {x:.2f} {y:.2f})"),
        width=11,
        height=CHECK_MM + 2 * start,
        unit="mm",
        label="A bar that measures 100 mm down when the sheet is printed true.",
        font_family=SANS,
    )


def warning_triangle() -> Svg:
    """The sign before a caution, 4.2 by 3.8 mm; the caution's words stand beside it."""
    return drawing(
        element(
            "path",
            d="M2.1 0.4L3.9 3.5H0.3Z",
            fill="none",
            stroke="#000000",
            stroke_width=0.35,
            stroke_linejoin="round",
        ),
        element("path", d="M2.1 1.5V2.5M2.1 2.85V3.15", fill="none", stroke="#000000", stroke_width=0.35),
        width=4.2,
        height=3.8,
        unit="mm",
        label="",
    )
