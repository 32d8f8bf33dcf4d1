"""The ring lying on the table, seen from above at thirty degrees, and the two circles of a list.

A ring is a section turned about an upright axis. Each point of the section draws an ellipse half as high as
it is wide; what the eye meets is the hull of the outer ones, near rim of the inner ones, edges between.
"""

from functools import lru_cache
from math import cos, pi, sin

from studio.craft.designs import Pattern, Profile
from studio.craft.drawing.facets import stroke_data, strokes
from studio.craft.drawing.flared import flare
from studio.craft.drawing.lines import BLACK, SCREEN_PEN, WHITE, Pen, Point, fine_lines
from studio.craft.drawing.lying_band import RISE, TILT, Band, opening, outline, rim
from studio.craft.drawing.outlines import (
    FACET_MM,
    FLAT_OUTSIDE,
    FLAT_SIDED,
    outside_radius,
)
from studio.craft.drawing.svg import Svg, Value, drawing, element, points
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import Reckoning

QUOTE_PEN = Pen(BLACK, BLACK, "#EFEFEF", WHITE, BLACK, 2, 1, 0.72, 6, 1)
"""Black on white for the customer's paper, with a breath of grey on the metal."""
_PAPER_UNITS = 4
"""Units of a drawing with the quote's pen in a mm of paper: its outline of 2 is half a mm."""


def _ellipse_arc(radius: float, height: float, *, is_far: bool) -> str:
    """Path data of the near or the far half of one ellipse, from left to right."""
    y = -height * RISE
    return f"M{-radius:.2f} {y:.2f}A{radius:.2f} {radius * TILT:.2f} 0 0 {int(is_far)} {radius:.2f} {y:.2f}"


def _ellipse(radius: float, height: float) -> str:
    """Path data of one whole ellipse."""
    across = f"{radius:.2f} {radius * TILT:.2f} 0 1 0"
    return f"M{-radius:.2f} {-height * RISE:.2f}a{across} {2 * radius:.2f} 0a{across} {-2 * radius:.2f} 0Z"


def _pattern(band: Band, grain_mm: float) -> str:
    """Path data of the pattern on what is seen of the outside, its cells about `grain_mm` in size."""

    def where(across: float, along: float) -> Point | None:
        u, turn = 2 * across - 1, (along - 0.5) * 2 * pi
        out, high = band.face(u)
        # The face leans along the axis by its slope; where it turns away from the eye nothing is drawn.
        beside, there = band.face(u + (0.02 if u < 0 else -0.02))
        slope = (beside - out) / (there - high)
        if cos(turn) * RISE - slope * TILT < 0.04:
            return None
        return out * sin(turn), -high * RISE + out * cos(turn) * TILT

    grain = max(grain_mm * band.unit, 10)
    round_it = 2 * pi * (band.radius + band.thickness)
    return stroke_data(strokes(band.pattern, band.width, round_it, grain), where)


def _edges(band: Band) -> str:
    """Path data of the sharp edges that are seen: rims of the upper face, the ridge of a knife edge."""
    outside, inside = band.outside, band.inside
    data = ""
    if not band.is_bent or band.arc is not None:
        data += _ellipse_arc(*inside[0], is_far=True)
    if band.profile in FLAT_OUTSIDE:
        data += _ellipse_arc(*outside[0], is_far=False)
    if band.profile is Profile.KNIFE_EDGE:
        data += _ellipse_arc(*outside[1], is_far=False)
    return data


def _lying(pen: Pen, band: Band) -> str:
    """The ring about the origin."""
    # Coarser than the side view on screen: the ring is small there, and the hand reads it at a glance.
    grain_mm = FACET_MM * (1.0 if pen is QUOTE_PEN else 1.4)
    outside, inside = band.outside, band.inside
    hull, near = outline(band), rim(inside)
    hole = opening(near, min(radius for radius, _ in inside))
    # By symmetry the far lower edge is the near rim turned upside down; the table shows between the two.
    far = [(x, -y) for x, y in hole]
    table = points(hole + far[::-1]) if hole else ""
    is_whole_hole = bool(hole) and near[0][1] > 0
    inner_lines = points(hole if is_whole_hole else near, is_closed=False)
    if hole:
        inner_lines += points(far, is_closed=False)
    face = ""
    if band.profile in FLAT_SIDED:
        ellipses = _ellipse(*outside[0]) + _ellipse(*inside[0])
        face = element("path", d=ellipses, fill=pen.ground, fill_rule="evenodd")
    pattern = "" if band.pattern is Pattern.PLAIN else fine_lines(pen, _pattern(band, grain_mm))
    lines: dict[str, Value] = {"stroke": pen.ink, "stroke_width": pen.outline, "stroke_linejoin": "round"}
    return (
        element("path", d=points(hull) + table, fill=pen.metal, fill_rule="evenodd")
        + pattern
        + face
        + element("path", d=points(hull) + inner_lines + _edges(band), fill="none", **lines)
    )


def _on_the_table(band: Band, label: str) -> Svg:
    """A drawing just large enough for the ring and its line."""
    width, high = _room(band)
    place = f"translate({width / 2:.2f} {high / 2:.2f})"
    ring = element("g", _lying(SCREEN_PEN, band), transform=place)
    focusable = None if label else "false"
    return drawing(ring, width=round(width, 1), height=round(high, 1), label=label, focusable=focusable)


def _room(band: Band) -> Point:
    """Width and height that the ring takes with its line, in px."""
    widest = max(radius for radius, _ in band.outside)
    return 2 * widest + 4, 2 * max(-y for _, y in outline(band)) + 4


def _band(reckoning: Reckoning, unit: float) -> Band:
    """The ring at `unit` px a mm."""
    made = reckoning.design
    inside = reckoning.diameter_mm / 2 * unit
    wide, thick = made.width_mm * unit, made.thickness_mm * unit
    return Band(made.profile, made.pattern, wide, thick, inside, unit, flare(reckoning, unit))


def _label(reckoning: Reckoning) -> str:
    design = reckoning.design
    worked = "" if design.pattern is Pattern.PLAIN else f", {design.pattern}"
    worked += "" if reckoning.form is None else ", its edges flaring"
    return (
        f"The ring lying on the table: {PROFILE_NAMES[design.profile]}, {design.width_mm:g} mm wide{worked}."
    )


@lru_cache(maxsize=8)
def _sample(width: float) -> Svg:
    """A hammered band 6 x 1.6 of 17.7 mm inside, for pages that speak of no ring in particular."""
    unit = (width - 4) / 20.9
    return _on_the_table(Band(Profile.FLAT, Pattern.HAMMERED, 6 * unit, 1.6 * unit, 8.85 * unit, unit), "")


def lying_ring(reckoning: Reckoning | None, width: float) -> Svg:
    """The ring on the table, `width` px wide, its outline and pattern true to the figures.

    Without a reckoning a hammered band stands for the studio's work, an ornament without text alternative.
    """
    if reckoning is None:
        return _sample(width)
    unit = (width - 4) / (2 * outside_radius(reckoning))
    return _on_the_table(_band(reckoning, unit), _label(reckoning))


def quote_ring(reckoning: Reckoning, scale: float) -> Svg:
    """The ring on the table for the customer's paper, `scale` mm of paper for a mm of ring. In mm."""
    band = _band(reckoning, scale * _PAPER_UNITS)
    width, high = (side / _PAPER_UNITS for side in _room(band))
    place = f"translate({width / 2:.2f} {high / 2:.2f}) scale({1 / _PAPER_UNITS:g})"
    ring = element("g", _lying(QUOTE_PEN, band), transform=place)
    return drawing(ring, width=width, height=high, unit="mm", label=_label(reckoning))


def quote_ring_scale(reckoning: Reckoning, width_mm: float, height_mm: float) -> float:
    """The largest scale at which `quote_ring` stays within a room of these sides on paper."""
    line = 4 / _PAPER_UNITS
    width, high = _room(_band(reckoning, 1.0))
    return min((width_mm - line) / (width - 4), (height_mm - line) / (high - 4))


def ring_thumb(reckoning: Reckoning) -> Svg:
    """Inside and outside as two circles in a square of 64 px, at 2.7 px a mm so that a list compares sizes.

    A ring over 23 mm outside is drawn as large as the square allows.
    """
    radius = outside_radius(reckoning)
    scale = min(2.7, 31 / radius)
    line: dict[str, Value] = {
        "cx": 32,
        "cy": 32,
        "fill": "none",
        "stroke": SCREEN_PEN.ink,
        "stroke_width": 1.6,
    }
    return drawing(
        element("circle", r=radius * scale, **line),
        element("circle", r=reckoning.diameter_mm / 2 * scale, **line),
        width=64,
        height=64,
        label="",
        focusable="false",
    )
