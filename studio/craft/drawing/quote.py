"""The quote's measured drawings, in mm of paper: the section much larger, front and side at true size."""

from math import inf

from studio.craft.designs import Profile
from studio.craft.drawing.lines import PAPER_PEN, SANS, Figure, Pen, Span, Spot, across, chain_line, upright
from studio.craft.drawing.outlines import outside_radius, section_height, seen_width
from studio.craft.drawing.paper import TEXT_MM, true_size_pen
from studio.craft.drawing.svg import Svg, drawing, element, text
from studio.craft.drawing.type_widths import text_width
from studio.craft.drawing.views import front, section_view, side_view
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import Reckoning

_TIMES = ((12, "twelve"), (10, "ten"), (8, "eight"), (6, "six"), (4, "four"), (3, "three"), (2, "two"))
_LONGEST_MM, _HIGHEST_MM = 40.0, 13.0
"""How large the section may be drawn."""
_OVER = 3.0
_LINE_BELOW, _LINE_BESIDE = 8.5, 10.0
_PRESSED = 16 * PAPER_PEN.dash
"""How far a dimension line runs out where its arrows press from outside."""
_DOMED = frozenset({Profile.HALF_ROUND, Profile.LOW_DOME, Profile.KNIFE_EDGE, Profile.COURT})
"""Sections whose highest place is in the middle: the dimension reaches in to it."""
_DOMED_INSIDE = frozenset({Profile.COURT, Profile.FLAT_COURT})
"""Sections whose lowest place is in the middle."""
_ENDS = {Profile.COURT: 0.5, Profile.ROUND: 0.5, Profile.FLAT_COURT: 1.0}
"""How high above the inside a section is widest, as a share of its thickness; all others at its foot."""


def quote_section(reckoning: Reckoning) -> Svg:
    """The section with its measures, up to twelve times true size; the words above say how many times.

    As large as goes into 40 x 13 mm: a band 6 x 1.6 mm stands six times as large.
    """
    design = reckoning.design
    wide_mm, high_mm = seen_width(reckoning), section_height(reckoning)
    times, count = next(
        (
            (times, count)
            for times, count in _TIMES
            if times * wide_mm <= _LONGEST_MM and times * high_mm <= _HIGHEST_MM
        ),
        (1, ""),
    )
    words = f"Section, {count} times true size" if count else "Section, true size"
    wide, high = wide_mm * times, high_mm * times
    thickness = Figure(f"{high_mm:.2f}", TEXT_MM)
    width = Figure(f"{reckoning.finished_width_mm:.2f}", TEXT_MM)
    is_wire = design.profile is Profile.ROUND
    if is_wire:
        width = Figure(f"Ø {design.width_mm:.2f}", TEXT_MM)
    # Where a figure does not fit between its arrows it stands past them, and asks for room there.
    is_low = not is_wire and not _fits(PAPER_PEN, high, thickness)
    is_short = not _fits(PAPER_PEN, wide, width)
    above = _PRESSED + 0.5 if is_low else 2.5
    left, top = _OVER, TEXT_MM * 1.1 + above
    right, foot = left + wide, top + high
    below = foot + _LINE_BELOW + (_PRESSED if is_low else 0.0)
    beside = right + _LINE_BESIDE
    past = right + _PRESSED + text_width(width.words, TEXT_MM) + 1 if is_short else right + _OVER
    if not is_wire:
        past = max(past, beside + 1.5 + (text_width(thickness.words, TEXT_MM) if is_low else 0.0))
    return drawing(
        text(words, 0, TEXT_MM * 0.8, TEXT_MM),
        section_view(PAPER_PEN, reckoning, Spot((left + right) / 2, (top + foot) / 2, times), over=_OVER),
        across(
            PAPER_PEN, (left, right), width, line=below, edge=foot - high * _ENDS.get(design.profile, 0.0)
        ),
        "" if is_wire else _reaches(reckoning, (left, right), (top, foot)),
        "" if is_wire else _thickness((top, foot), thickness, line=beside, edge=right),
        width=max(text_width(words, TEXT_MM), past) + 0.3,
        height=below + 1.5,
        unit="mm",
        label=f"{words}: {PROFILE_NAMES[design.profile]}, {_measures(reckoning)}.",
        font_family=SANS,
    )


def quote_views(reckoning: Reckoning, room_mm: float = inf) -> Svg:
    """Front and side of the ring at true size, the inside diameter in words beside them.

    The words go below where they would reach past `room_mm`. The metal's edge is the outer edge of its line.
    """
    pen = true_size_pen(reckoning)
    radius, wide = outside_radius(reckoning), seen_width(reckoning)
    x = y = radius + _OVER
    middle = x + radius + _OVER + 4 + wide / 2
    end = middle + wide / 2 + _OVER
    inside = f"Ø {reckoning.diameter_mm:.1f} inside"
    beside = end + 1 + text_width(inside, TEXT_MM)
    foot = y + radius + _OVER
    if beside <= room_mm:
        lines = (
            text("True size,", end + 1, y - TEXT_MM * 0.35, TEXT_MM),
            text(inside, end + 1, y + TEXT_MM * 1.01, TEXT_MM),
        )
    else:
        lines = (text(f"True size, {inside}", 0, foot + TEXT_MM * 0.9, TEXT_MM), "")
        foot += TEXT_MM * 1.2
        beside = max(end, text_width(f"True size, {inside}", TEXT_MM))
    axis = chain_line(
        pen,
        f"M{x - radius - _OVER:.2f} {y:.2f}H{x + radius + _OVER:.2f}"
        f"M{x:.2f} {y - radius - _OVER:.2f}V{y + radius + _OVER:.2f}",
    )
    return drawing(
        front(pen, reckoning, Spot(x, y, 1), inset=pen.outline / 2),
        axis,
        side_view(pen, reckoning, Spot(middle, y, 1), over=_OVER, inset=pen.outline / 2),
        *lines,
        width=beside + 0.3,
        height=foot,
        unit="mm",
        label=f"The ring at true size from the front, {reckoning.diameter_mm:.1f} mm inside, and from the"
        f" side, {reckoning.finished_width_mm:.2f} mm wide.",
        font_family=SANS,
    )


def _thickness(levels: Span, figure: Figure, *, line: float, edge: float) -> str:
    """The upright dimension; on a low section its figure lies beside the arrows, not far above them."""
    top, foot = levels
    if _fits(PAPER_PEN, foot - top, figure):
        return upright(PAPER_PEN, levels, figure, line=line, edge=edge)
    return upright(PAPER_PEN, levels, Figure("", figure.size), line=line, edge=edge) + text(
        figure.words, line + 1.2, (top + foot) / 2 + figure.size * 0.33, figure.size
    )


def _fits(pen: Pen, room: float, figure: Figure) -> bool:
    """Whether a figure stands between the arrows of its dimension, as `across` and `upright` decide it."""
    return room >= max(text_width(figure.words, figure.size) + pen.dash, 21 * pen.dash)


def _reaches(reckoning: Reckoning, sides: Span, levels: Span) -> str:
    """Thin lines from the middle of a domed section to where its dimension's own extension lines begin."""
    (left, right), (top, foot) = sides, levels
    gap, profile = 3 * PAPER_PEN.dash, reckoning.design.profile
    level = [top] * (profile in _DOMED) + [foot] * (profile in _DOMED_INSIDE)
    data = "".join(f"M{(left + right) / 2 + gap:.2f} {y:.2f}H{right + gap:.2f}" for y in level)
    return element("path", d=data, stroke=PAPER_PEN.ink, stroke_width=PAPER_PEN.thin) if data else ""


def _measures(reckoning: Reckoning) -> str:
    design = reckoning.design
    if design.profile is Profile.ROUND:
        return f"{design.width_mm:.2f} mm across"
    if reckoning.form is not None:
        high_mm = section_height(reckoning)
        return f"{reckoning.finished_width_mm:.2f} mm wide and {high_mm:.2f} mm high over the waist"
    return f"{design.width_mm:.2f} mm wide and {design.thickness_mm:.2f} mm thick"
