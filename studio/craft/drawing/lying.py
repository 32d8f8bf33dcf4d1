"""The ring lying on the table, seen from above at thirty degrees, and the two circles of a list.

A ring is a section turned about an upright axis. Each point of the section draws an ellipse half as high as
it is wide; what the eye meets is the hull of the outer ones, near rim of the inner ones, edges between.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import cos, pi, sin, sqrt

from studio.craft.designs import Pattern, Profile
from studio.craft.drawing.facets import stroke_data, strokes
from studio.craft.drawing.lines import BLACK, SCREEN_PEN, WHITE, Pen, Point, fine_lines
from studio.craft.drawing.outlines import (
    FACET_MM,
    FLAT_OUTSIDE,
    FLAT_SIDED,
    ROUND_ENDED,
    inside_height,
    outside_height,
    outside_radius,
)
from studio.craft.drawing.svg import Svg, Value, drawing, element, points
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import Reckoning

TILT = 0.5
"""How high an ellipse is against its width: the sine of thirty degrees."""
RISE = sqrt(1 - TILT**2)
QUOTE_PEN = Pen(BLACK, BLACK, "#EFEFEF", WHITE, BLACK, 2, 1, 0.72, 6, 1)
"""Black on white for the customer's paper, with a breath of grey on the metal."""
_PAPER_UNITS = 4
"""Units of a drawing with the quote's pen in a mm of paper: its outline of 2 is half a mm."""
_ACROSS = 24
_ROUND = 96


@dataclass(frozen=True, slots=True)
class Band:
    """A ring to be drawn, in px: `radius` is the inside one, `unit` is px a mm."""

    profile: Profile
    pattern: Pattern
    width: float
    thickness: float
    radius: float
    unit: float

    @property
    def outside(self) -> list[Point]:
        """The section's outside from the top down, as (radius, height above the middle)."""
        if self.profile in FLAT_OUTSIDE:
            across = [1.0, -1.0]
        elif self.profile is Profile.KNIFE_EDGE:
            across = [1.0, 0.0, -1.0]
        else:
            across = [cos(pi * i / _ACROSS) for i in range(_ACROSS + 1)]
        return [
            (self.radius + self.thickness * outside_height(self.profile, u), u * self.width / 2)
            for u in across
        ]

    @property
    def inside(self) -> list[Point]:
        """The section's inside from the top down, as (radius, height above the middle)."""
        is_bent = self.profile in ROUND_ENDED or self.profile is Profile.FLAT_COURT
        across = [cos(pi * i / _ACROSS) for i in range(_ACROSS + 1)] if is_bent else [1.0, -1.0]
        return [
            (self.radius + self.thickness * inside_height(self.profile, u), u * self.width / 2)
            for u in across
        ]


def _hull(outside: list[Point]) -> list[Point]:
    """The outline round all ellipses of the outside, y downward."""
    corners = []
    for i in range(_ROUND * 2):
        a, b = cos(pi * i / _ROUND), sin(pi * i / _ROUND)
        reach = sqrt(a * a + (TILT * b) ** 2)
        # The point of the section whose ellipse reaches farthest this way.
        radius, height = max((h * RISE * b + r * reach, r, h) for r, h in outside)[1:]
        corners.append((radius * a / reach, -(height * RISE + radius * TILT * TILT * b / reach)))
    return corners


def _near_rim(inside: list[Point], x: float) -> float | None:
    """How far up the near wall hides the far one at `x`, or None past the end of that rim.

    Going down the inside from its top, the first point that stands higher than its neighbours in the picture.
    """
    best: float | None = None
    for radius, height in inside:
        if radius < abs(x):
            return None
        seen = height * RISE - TILT * sqrt(radius * radius - x * x)
        if best is not None and seen < best:
            return best
        best = seen
    return None


def _rim(inside: list[Point]) -> list[Point]:
    """The near rim from left to right, y downward."""
    widest = inside[0][0]
    rim = []
    for i in range(_ROUND + 1):
        x = -widest * cos(pi * i / _ROUND)
        height = _near_rim(inside, x * (1 - 1e-9))
        if height is not None:
            rim.append((x, -height))
    return rim


def _opening(rim: list[Point], narrowest: float) -> list[Point]:
    """The part of the near rim below which the table is seen, from where it meets the far edge and back.

    A wide ring hides the table wholly: then there is none. Round wire shows a hole whose two edges run into
    one another at the sides, at the inside radius.
    """
    opening: list[Point] = []
    for (x, y), (u, v) in pairwise(rim):
        if (y > 0) != (v > 0):
            opening.append((x + (u - x) * y / (y - v), 0.0))
        if v > 0:
            opening.append((u, v))
    if opening and rim[0][1] > 0:
        return [(-narrowest, 0.0), rim[0], *opening, (narrowest, 0.0)]
    return opening


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
    half = band.width / 2

    def where(across: float, along: float) -> Point | None:
        u, turn = 2 * across - 1, (along - 0.5) * 2 * pi
        out = band.radius + band.thickness * outside_height(band.profile, u)
        # The face leans along the axis by its slope; where it turns away from the eye nothing is drawn.
        step = 0.02 if u < 0 else -0.02
        climb = outside_height(band.profile, u + step) - outside_height(band.profile, u)
        slope = band.thickness * climb / (step * half)
        if cos(turn) * RISE - slope * TILT < 0.04:
            return None
        return out * sin(turn), -u * half * RISE + out * cos(turn) * TILT

    grain = max(grain_mm * band.unit, 10)
    round_it = 2 * pi * (band.radius + band.thickness)
    return stroke_data(strokes(band.pattern, band.width, round_it, grain), where)


def _edges(band: Band) -> str:
    """Path data of the sharp edges that are seen: rims of the upper face, the ridge of a knife edge."""
    outside, inside = band.outside, band.inside
    data = ""
    if band.profile not in ROUND_ENDED and band.profile is not Profile.FLAT_COURT:
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
    hull, rim = _hull(outside), _rim(inside)
    opening = _opening(rim, min(radius for radius, _ in inside))
    # By symmetry the far lower edge is the near rim turned upside down; the table shows between the two.
    far = [(x, -y) for x, y in opening]
    table = points(opening + far[::-1]) if opening else ""
    is_whole_hole = bool(opening) and rim[0][1] > 0
    inner_lines = points(opening if is_whole_hole else rim, is_closed=False)
    if opening:
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
    return 2 * (band.radius + band.thickness) + 4, 2 * max(-y for _, y in _hull(band.outside)) + 4


def _band(reckoning: Reckoning, unit: float) -> Band:
    """The ring at `unit` px a mm."""
    made = reckoning.design
    inside = reckoning.diameter_mm / 2 * unit
    return Band(made.profile, made.pattern, made.width_mm * unit, made.thickness_mm * unit, inside, unit)


def _label(reckoning: Reckoning) -> str:
    design = reckoning.design
    worked = "" if design.pattern is Pattern.PLAIN else f", {design.pattern}"
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
