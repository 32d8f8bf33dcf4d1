"""The outlines of a ring, in mm about its own middle: section, side view, front view.

`u` runs across the width from -1 to 1, heights are shares of the thickness above the inside face, as in
`studio.craft.profiles`, which the tests hold these against.
"""

import math
from functools import lru_cache
from itertools import pairwise

from studio.craft.designs import Pattern, Profile
from studio.craft.drawing.flared import Flare, flare
from studio.craft.drawing.lines import Point
from studio.craft.reckonings import Reckoning

FLAT_OUTSIDE = frozenset({Profile.FLAT, Profile.SQUARE, Profile.FLAT_COURT})
FLAT_SIDED = frozenset({Profile.FLAT, Profile.SQUARE})
ROUND_ENDED = frozenset({Profile.COURT, Profile.ROUND})
FACET_MM = 1.35
"""How far apart the blows of a planishing hammer fall; common practice, no source."""
STEPS = 32
"""Straight pieces that stand for one curved side: an ellipse's area comes out 0.16 % small."""


def outside_height(profile: Profile, u: float) -> float:
    """Height of the outside face at `u`, as a share of the thickness. Half-round at 0.6: 0.8."""
    match profile:
        case Profile.FLAT | Profile.SQUARE | Profile.FLAT_COURT:
            return 1.0
        case Profile.HALF_ROUND:
            return math.sqrt(max(0.0, 1 - u * u))
        case Profile.LOW_DOME:
            return 1 - u * u
        case Profile.COURT | Profile.ROUND:
            return 0.5 + 0.5 * math.sqrt(max(0.0, 1 - u * u))
        case Profile.KNIFE_EDGE:
            return 1 - abs(u)


def inside_height(profile: Profile, u: float) -> float:
    """Height of the inside face at `u`, as a share of the thickness; 0 for every flat inside."""
    if profile in ROUND_ENDED:
        return 0.5 - 0.5 * math.sqrt(max(0.0, 1 - u * u))
    if profile is Profile.FLAT_COURT:
        return 1 - math.sqrt(max(0.0, 1 - u * u))
    return 0.0


@lru_cache(maxsize=64)
def _across(profile: Profile, hollows: int) -> tuple[tuple[float, float, float], ...]:
    """Places across the outside face from right to left: u, height, and depth in a hollow (0 to 1)."""
    if not hollows:
        if profile in FLAT_OUTSIDE:
            return ((1.0, 1.0, 0.0), (-1.0, 1.0, 0.0))
        if profile is Profile.KNIFE_EDGE:
            return ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))
        turns = [math.cos(math.pi * i / STEPS) for i in range(STEPS + 1)]
        return tuple((u, outside_height(profile, u), 0.0) for u in turns)
    pieces = max(6, STEPS // hollows) * hollows
    per = pieces // hollows
    places = []
    for i in range(pieces + 1):
        angle = math.pi * i / pieces
        u = (
            1 - 2 * i / pieces
            if profile in FLAT_OUTSIDE or profile is Profile.KNIFE_EDGE
            else math.cos(angle)
        )
        share = i % per / per
        places.append((u, outside_height(profile, u), 4 * share * (1 - share)))
    return tuple(places)


@lru_cache(maxsize=16)
def _inside(profile: Profile) -> tuple[tuple[float, float], ...]:
    """Places across the inside face from left to right, without the ends that the outside has already."""
    if profile in ROUND_ENDED or profile is Profile.FLAT_COURT:
        turns = [-math.cos(math.pi * i / STEPS) for i in range(1, STEPS)]
        return tuple((u, inside_height(profile, u)) for u in turns)
    return ((-1.0, 0.0), (1.0, 0.0)) if profile in FLAT_SIDED else ()


def hollows_across(pattern: Pattern, width_mm: float) -> int:
    """How many hollows a cut through the worked face shows: an even number, so that the middle is full."""
    if pattern is Pattern.PLAIN:
        return 0
    pitch_mm = 0.7 if pattern is Pattern.ROLLED else FACET_MM
    return 2 * max(1, min(14, round(width_mm / (2 * pitch_mm))))


def section(
    profile: Profile, width_mm: float, thickness_mm: float, pattern: Pattern = Pattern.PLAIN
) -> list[Point]:
    """The closed section in mm: x from -w/2, y from the inside face outward.

    A plain half-round 4 x 1.7 mm encloses 5.34 mm2, half an ellipse. A worked face dips between the blows
    by a twentieth of the thickness at most, 0.12 mm at most; its highest points keep the full thickness.
    """
    half = width_mm / 2
    hollows = hollows_across(pattern, width_mm)
    deep = min(0.05 * thickness_mm, 0.04 if pattern is Pattern.ROLLED else 0.12)
    outside = [
        (u * half, height * thickness_mm - dip * deep * (height - inside_height(profile, u) if dip else 0.0))
        for u, height, dip in _across(profile, hollows)
    ]
    return outside + [(u * half, height * thickness_mm) for u, height in _inside(profile)]


def side(profile: Profile, width_mm: float, thickness_mm: float, radius_mm: float) -> list[Point]:
    """The side view's outline in mm, seen across the ring's axis: x along the axis, y from the middle.

    A ring turned about its axis shows its outside face above and, mirrored, below: a half-round has a dome at
    the top and at the bottom, from the inside radius at its edges to the outside radius in the middle.
    """
    half = width_mm / 2
    top = [(-u * half, -(radius_mm + height * thickness_mm)) for u, height, _ in _across(profile, 0)]
    return top + [(-x, -y) for x, y in top]


def formed_section(arc: Flare) -> list[Point]:
    """The closed section of an anticlastic band: x from the middle, y from the waist's inside outward."""
    outside = [arc.outside(u) for u in arc.places()]
    inside = [arc.inside(-u) for u in arc.places()]
    return [(x, y - arc.waist) for x, y in outside + inside]


def formed_side(arc: Flare) -> list[Point]:
    """The side view's outline of an anticlastic band, as `side`: narrow at the waist, wide at its edges."""
    top = [arc.inside(-1), *(arc.outside(-u) for u in arc.places()), arc.inside(1)]
    return [(x, -y) for x, y in top] + [(-x, y) for x, y in top]


def seen_width(reckoning: Reckoning) -> float:
    """How wide the ring is drawn, in mm: the design's width, or from edge to edge where they flare."""
    arc = flare(reckoning)
    return reckoning.design.width_mm if arc is None else arc.width


def section_height(reckoning: Reckoning) -> float:
    """How high the section is drawn, in mm: the thickness, or from inside the waist to outside the edges."""
    arc = flare(reckoning)
    return reckoning.design.thickness_mm if arc is None else arc.edge - arc.waist


def outside_radius(reckoning: Reckoning) -> float:
    """Radius over the ring's outside in mm: inside radius plus thickness, or that of its flaring edges."""
    arc = flare(reckoning)
    if arc is not None:
        return arc.edge
    return reckoning.diameter_mm / 2 + reckoning.design.thickness_mm


def faceted_front(x: float, y: float, radius: float, radius_mm: float) -> str:
    """Path data of a hammered ring's outside from the front about (x, y): its corners lie on the full radius.

    `radius` is in the drawing's unit, `radius_mm` the same in mm: the faces between corners are about 2.2 mm
    long, a blow and a half, and half as flat as their chord, so that the blows are seen and the size holds.
    """
    count = max(24, min(56, round(2 * math.pi * radius_mm / 2.2)))
    turns = [2 * math.pi * (i + 0.2 * math.sin(i * 2.4 + math.sin(i * 1.7))) / count for i in range(count)]
    turns.append(turns[0] + 2 * math.pi)
    data = [f"M{x + radius * math.sin(turns[0]):.2f} {y - radius * math.cos(turns[0]):.2f}"]
    for start, end in pairwise(turns):
        middle, flat = (start + end) / 2, math.cos((end - start) / 2)
        bend = radius * (flat + 0.9 * (1 - flat))
        data.append(
            f"Q{x + bend * math.sin(middle):.2f} {y - bend * math.cos(middle):.2f}"
            f" {x + radius * math.sin(end):.2f} {y - radius * math.cos(end):.2f}"
        )
    return "".join(data) + "Z"
