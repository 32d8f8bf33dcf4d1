"""The piece as it lies on the bench at one step: blank, patterned strip, true strip, closed ring. Large."""

from dataclasses import replace
from enum import Enum, StrEnum
from math import pi, sqrt

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.drawing.facets import stroke_data, strokes
from studio.craft.drawing.lines import (
    SANS,
    SCREEN_PEN,
    Figure,
    Pen,
    Spot,
    across,
    broken_line,
    fine_lines,
)
from studio.craft.drawing.outlines import FACET_MM, outside_radius, seen_width
from studio.craft.drawing.svg import Svg, drawing, element
from studio.craft.drawing.type_widths import text_width
from studio.craft.drawing.views import centre_lines, front, side_view, steel_rule
from studio.craft.operations import Does, Operation
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words

FIGURE_PX, NUMBER_PX = 22.0, 15.0
_OVER = 10.0


class BenchCut(Enum):
    """The widths the bench's drawing comes in, in px: a tablet's column and a telephone."""

    WIDE = 460.0
    NARROW = 288.0


class Piece(StrEnum):
    """What lies on the bench."""

    BLANK = "the blank"  # up to the saw: its mark
    SAWN = "the strip as sawn"  # while it is filed and patterned
    WORKED = "the strip to be squared"  # patterned if it is, with the lines to file to
    TRUE = "the strip at its true length"
    CLOSED = "the ring as closed"  # before it is sunk or its pattern opens it
    RING = "the ring"


def piece_at(operation: Operation, operations: tuple[Operation, ...]) -> Piece:
    """What lies on the bench while an operation of the route is done."""
    done: set[Does] = set()
    to_come: set[Does] = set()
    is_past = False
    for one in operations:
        is_past = is_past or one.key == operation.key
        (to_come if is_past else done).update(one.does)
    if Does.CLOSES in done or Does.CLOSES in operation.does:
        shaping = {Does.FORMS, Does.PATTERNS_RING}
        is_still_closed = to_come & shaping and not (done | operation.does) & shaping
        return Piece.CLOSED if is_still_closed else Piece.RING
    if Does.SQUARES in operation.does:
        return Piece.WORKED
    if Does.SQUARES in done:
        return Piece.TRUE
    return Piece.SAWN if Does.CUTS in done else Piece.BLANK


def bench_drawing(reckoning: Reckoning, piece: Piece, cut: BenchCut) -> Svg:
    """The piece with the one length that counts at this step, on a steel rule; the ring with its inside.

    `cut` is the width in px; the scale is chosen so that the piece fills it, and is written in the markup.
    """
    if piece in {Piece.CLOSED, Piece.RING}:
        return _ring(_as_closed(reckoning) if piece is Piece.CLOSED else reckoning, cut.value)
    return _strip(reckoning, piece, cut.value)


def _strip(reckoning: Reckoning, piece: Piece, width: float) -> Svg:
    design, pen = reckoning.design, SCREEN_PEN
    is_worked = piece is Piece.WORKED
    stretched = reckoning.mark_mm * (1 + reckoning.stretch.used_percent / 100)
    long_mm = {
        Piece.BLANK: reckoning.mark_mm,
        Piece.SAWN: reckoning.mark_mm,
        Piece.WORKED: max(stretched, reckoning.true_length_mm + 0.2),
        Piece.TRUE: reckoning.true_length_mm,
    }[piece]
    left = 2.0
    scale = min((width - 2 * left) / long_mm, 9.0)
    top, wide = 46.0, design.width_mm * scale
    end, foot = left + long_mm * scale, top + wide
    rest = (long_mm - reckoning.true_length_mm) / 2 * scale if is_worked else 0.0
    told = (
        f"true {reckoning.true_length_mm:.2f}"
        if piece in {Piece.WORKED, Piece.TRUE}
        else f"mark {reckoning.mark_mm:.1f}"
    )
    trued = ""
    if is_worked:
        data = f"M{left + rest:.2f} {top:.2f}v{wide:.2f}M{end - rest:.2f} {top:.2f}v{wide:.2f}"
        trued = broken_line(pen, data)
    zero = left + rest
    return drawing(
        element("rect", x=left, y=top, width=end - left, height=wide, fill=pen.metal),
        _worked(pen, reckoning, Spot(left, top, scale), long_mm) if _shows_pattern(reckoning, piece) else "",
        element(
            "rect",
            x=left,
            y=top,
            width=end - left,
            height=wide,
            fill="none",
            stroke=pen.ink,
            stroke_width=pen.outline,
            data_part="strip",
        ),
        trued,
        across(pen, (zero, end - rest), Figure(told, FIGURE_PX, 600), line=top - 20, edge=top),
        steel_rule(pen, Spot(zero, foot + 6, scale), width - 0.5, NUMBER_PX),
        width=width,
        height=foot + 40,
        label=_strip_words(reckoning, piece),
        font_family=SANS,
        data_mm_per_unit=f"{1 / scale:.6f}",
    )


def _shows_pattern(reckoning: Reckoning, piece: Piece) -> bool:
    """Whether the face is worked by then: on the strip after its pattern, rolled stock from the start."""
    pattern = reckoning.design.pattern
    if pattern is Pattern.PLAIN or reckoning.design.pattern_when is not PatternWhen.FLAT:
        return False
    return pattern is Pattern.ROLLED or piece in {Piece.WORKED, Piece.TRUE}


def _worked(pen: Pen, reckoning: Reckoning, spot: Spot, long_mm: float) -> str:
    """The pattern on the flat strip."""
    long, wide = long_mm * spot.scale, reckoning.design.width_mm * spot.scale
    grain = max(FACET_MM * spot.scale, 8.5)
    places = strokes(reckoning.design.pattern, wide, long, grain)
    return fine_lines(pen, stroke_data(places, lambda a, b: (spot.x + b * long, spot.y + a * wide)))


def _strip_words(reckoning: Reckoning, piece: Piece) -> str:
    width = figure_words(reckoning.design.width_mm)
    if piece in {Piece.WORKED, Piece.TRUE}:
        to = ", to be filed to the broken lines" if piece is Piece.WORKED else ""
        return f"The strip, {width} mm wide, {reckoning.true_length_mm:.2f} mm long{to}."
    return f"The blank, {width} mm wide, marked at {reckoning.mark_mm:.1f} mm."


def _as_closed(reckoning: Reckoning) -> Reckoning:
    """The ring before what shapes it: not sunk yet, or plain and smaller by what its pattern opens it."""
    design, inside_mm = reckoning.design, reckoning.diameter_mm
    if reckoning.form is not None:
        inside_mm = reckoning.form.closed_mm / pi
    elif design.pattern_when is PatternWhen.CLOSED:
        inside_mm = reckoning.true_length_mm / pi - 2 * reckoning.neutral_mm
        design = replace(design, pattern=Pattern.PLAIN, pattern_when=None)
    return replace(
        reckoning, design=design, form=None, diameter_mm=inside_mm, finished_width_mm=design.width_mm
    )


def _ring(reckoning: Reckoning, width: float) -> Svg:
    """Front and side on one centre line, the inside written within the ring or, where it is small, below."""
    radius_mm, wide_mm = outside_radius(reckoning), seen_width(reckoning)
    room = width - 6 * _OVER
    scale = min(room / (2 * radius_mm + wide_mm), 8.0)
    radius, inside = radius_mm * scale, reckoning.diameter_mm / 2 * scale
    x = y = radius + _OVER + 1
    middle = x + radius + 3 * _OVER + wide_mm * scale / 2
    figure = Figure(f"{reckoning.diameter_mm:.2f}", FIGURE_PX, 600)
    chord = 2 * sqrt(max(0.0, inside**2 - (6 + 0.68 * figure.size) ** 2))
    is_within = text_width(figure.words, figure.size, 600) + 8 <= chord
    line = y if is_within else y + radius + 34
    spot = Spot(x, y, scale)
    gap = (y - 8 - figure.size, y + 6) if is_within else None
    half = reckoning.finished_width_mm * scale / 2
    foot = y + radius
    return drawing(
        front(SCREEN_PEN, reckoning, spot),
        centre_lines(SCREEN_PEN, reckoning, spot, over=_OVER, gap=gap),
        across(SCREEN_PEN, (x - inside, x + inside), figure, line=line, edge=y),
        side_view(SCREEN_PEN, reckoning, Spot(middle, y, scale), over=_OVER),
        across(
            SCREEN_PEN,
            (middle - half, middle + half),
            Figure(figure_words(reckoning.finished_width_mm), NUMBER_PX + 1),
            line=foot + 34,
            edge=foot,
        ),
        width=width,
        height=foot + 40,
        label=f"The ring from the front, {reckoning.diameter_mm:.2f} mm inside, and from the side,"
        f" {figure_words(reckoning.finished_width_mm)} mm wide.",
        font_family=SANS,
        data_mm_per_unit=f"{1 / scale:.6f}",
    )
