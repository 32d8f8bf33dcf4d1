"""A band lying on the table as the eye meets it: its outline, the near rim, the hole one sees the table by.

Seen from above at thirty degrees each point of its section, turned about an upright axis, draws an ellipse
half as high as it is wide. In the drawing's unit, about the middle of the band.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import cos, pi, sin, sqrt

from studio.craft.designs import Pattern, Profile
from studio.craft.drawing.flared import Flare
from studio.craft.drawing.lines import Point
from studio.craft.drawing.outlines import FLAT_OUTSIDE, ROUND_ENDED, inside_height, outside_height

TILT = 0.5
"""How high an ellipse is against its width: the sine of thirty degrees."""
RISE = sqrt(1 - TILT**2)
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
    arc: Flare | None = None

    @property
    def is_bent(self) -> bool:
        """Whether the inside is no straight wall: its edges stand wider than its middle."""
        is_domed = self.profile in ROUND_ENDED or self.profile is Profile.FLAT_COURT
        return is_domed or self.arc is not None

    def face(self, u: float) -> Point:
        """A place on the outside face, as (radius, height above the middle)."""
        if self.arc is not None:
            along, out = self.arc.outside(u)
            return out, along
        return self.radius + self.thickness * outside_height(self.profile, u), u * self.width / 2

    @property
    def outside(self) -> list[Point]:
        """The section's outside from the top down, as (radius, height above the middle)."""
        if self.arc is not None:
            return [self.face(u) for u in self.arc.places()]
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
        if self.arc is not None:
            return [(out, along) for along, out in map(self.arc.inside, self.arc.places())]
        across = [cos(pi * i / _ACROSS) for i in range(_ACROSS + 1)] if self.is_bent else [1.0, -1.0]
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


def _waisted(band: Band) -> list[Point]:
    """The outline of a band with a waist, y downward: no hull, since the eye sees past its waist.

    Every slice across the axis is seen as an ellipse; at each height the widest of them is the outline.
    """
    inside = band.inside
    slices = [(radius, -height * RISE) for radius, height in (*band.outside, inside[0], inside[-1])]
    top = min(middle - radius * TILT for radius, middle in slices)
    foot = max(middle + radius * TILT for radius, middle in slices)
    right = []
    for i in range(_ROUND + 1):
        y = (top + foot) / 2 - (foot - top) / 2 * cos(pi * i / _ROUND)
        squares = (r * r - ((y - middle) / TILT) ** 2 for r, middle in slices)
        right.append((sqrt(max(0.0, *squares)), y))
    return right + [(-x, y) for x, y in reversed(right)]


def outline(band: Band) -> list[Point]:
    """The outline of the band as it lies, y downward."""
    return _hull(band.outside) if band.arc is None else _waisted(band)


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


def rim(inside: list[Point]) -> list[Point]:
    """The near rim from left to right, y downward."""
    widest = inside[0][0]
    rim = []
    for i in range(_ROUND + 1):
        x = -widest * cos(pi * i / _ROUND)
        height = _near_rim(inside, x * (1 - 1e-9))
        if height is not None:
            rim.append((x, -height))
    return rim


def opening(rim: list[Point], narrowest: float) -> list[Point]:
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
