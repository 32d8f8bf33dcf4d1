"""The arc of an anticlastic band as it is drawn: its two faces, turned about the finger.

Both are arcs about one centre, which lies the groove's middle radius beyond the middle of the metal; the face
toward the finger is the outer of the two.
"""

from dataclasses import dataclass
from math import cos, sin

from studio.craft.drawing.lines import Point
from studio.craft.reckonings import Reckoning

_PIECES = 24
"""Straight pieces that stand for one face."""


@dataclass(frozen=True, slots=True)
class Flare:
    """The arc in the drawing's unit: radius inside the waist, of the middle arc, half angle, thickness."""

    waist: float
    middle: float
    half_angle: float
    thick: float

    def outside(self, u: float) -> Point:
        """A place on the outside face: along the axis from the middle, and out from it. `u` from -1 to 1."""
        return self._at(u, max(0.0, self.middle - self.thick / 2))

    def inside(self, u: float) -> Point:
        """A place on the face toward the finger, as `outside`."""
        return self._at(u, self.middle + self.thick / 2)

    def _at(self, u: float, radius: float) -> Point:
        turn = u * self.half_angle
        centre = self.waist + self.thick / 2 + self.middle
        return radius * sin(turn), centre - radius * cos(turn)

    @property
    def edge(self) -> float:
        """The largest radius: that of the outside at the edges."""
        return self.outside(1)[1]

    @property
    def width(self) -> float:
        """From one edge of the inside face to the other, along the axis."""
        return 2 * self.inside(1)[0]

    def places(self, pieces: int = _PIECES) -> list[float]:
        """Places across, from 1 down to -1."""
        return [1 - 2 * i / pieces for i in range(pieces + 1)]


def flare(reckoning: Reckoning, scale: float = 1.0) -> Flare | None:
    """The arc of the ring at `scale` units a mm; None for a band."""
    if reckoning.form is None:
        return None
    groove = reckoning.form.groove
    return Flare(
        reckoning.diameter_mm / 2 * scale,
        groove.middle_radius_mm * scale,
        groove.half_angle,
        reckoning.design.thickness_mm * scale,
    )
