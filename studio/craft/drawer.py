"""Pieces of stock as they lie in the drawer: what they weigh by their measures, and what they can become."""

import math
from dataclasses import dataclass
from enum import StrEnum

from studio.craft.designs import Limits, Profile
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.practice import MillTerms
from studio.craft.profiles import section_mm2
from studio.craft.units import from_micrometres, shown_length
from studio.craft.weights import mass_g

LENGTH_MM, WIDTH_MM, THICKNESS_MM = Limits(1, 5000), Limits(0.3, 1000), Limits(0.1, 20)
MASS_G = Limits(0.01, 50_000)
ALIKE_MM = 0.02
"""Stock within this of a thickness passes for it: what a sheet is rolled to, common practice, no source."""
LEAST_LENGTH_MM, LEAST_WIDTH_MM = 5.0, 1.5
"""What is left over and smaller goes to the lemel: common practice, no source."""
DIFFERS_PERCENT, DIFFERS_G = 4.0, 0.05
"""A weight farther than both from what the measures give is asked about: common practice, no source."""


class PieceKind(StrEnum):
    """What a piece is: sheet and strip lie flat, a wire has the section of the rings made of it."""

    SHEET = "sheet"
    STRIP = "strip"
    WIRE = "wire"


def is_kept(kind: PieceKind, length_um: int, width_um: int) -> bool:
    """Whether what is left over is worth keeping: 5 mm long, and of sheet 1.5 mm wide, at the least."""
    is_wide = kind is PieceKind.WIRE or from_micrometres(width_um) >= LEAST_WIDTH_MM
    return is_wide and from_micrometres(length_um) >= LEAST_LENGTH_MM


@dataclass(frozen=True, slots=True)
class Measures:
    """A piece but for where it lies: `profile` is a wire's section, None for sheet and strip. In mm."""

    kind: PieceKind
    alloy: str
    length_mm: float
    width_mm: float
    thickness_mm: float
    profile: Profile | None = None

    @property
    def section_mm2(self) -> float:
        """Area of the cross-section. Sheet 24 x 1.5: 36; half-round wire 4 x 1.7: 5.34."""
        if self.profile is None:
            return self.width_mm * self.thickness_mm
        return section_mm2(self.profile, self.width_mm, self.thickness_mm)

    def mass_g(self, density_g_cm3: float) -> float:
        """What it weighs by its measures. Silver 925 (10.36) sheet 198 x 24 x 1.5: 73.85 g."""
        return mass_g(density_g_cm3, self.section_mm2, self.length_mm)


def check_measures(measures: Measures) -> None:
    """Raises `Refused` with every measure that cannot be a piece's."""
    found = [
        Refusal(field, Why.TOO_LARGE if value > limits.high else Why.TOO_SMALL, shown_length(value),
                limits.low, limits.high, "mm")
        for field, value, limits in (
            ("length", measures.length_mm, LENGTH_MM),
            ("width", measures.width_mm, WIDTH_MM),
            ("thickness", measures.thickness_mm, THICKNESS_MM),
        )
        if not limits.low <= value <= limits.high
    ]  # fmt: skip
    if (measures.kind is PieceKind.WIRE) != (measures.profile is not None):
        found.append(Refusal("profile", Why.EMPTY))
    if found:
        raise Refused(*found)


def differs_percent(weighed_g: float, reckoned_g: float) -> float | None:
    """How far a weight lies from what the measures give, in percent; None where that is near enough.

    70 g weighed for 73.85: -5.2. A slip of the pen, or another alloy, or a piece that is not a rectangle.
    """
    off = weighed_g - reckoned_g
    percent = 100 * off / reckoned_g
    return None if abs(percent) <= DIFFERS_PERCENT or abs(off) <= DIFFERS_G else percent


@dataclass(frozen=True, slots=True)
class Rolled:
    """A piece rolled down: as long as its volume makes it at its own width, after so many passes."""

    length_mm: float
    width_mm: float
    thickness_mm: float
    passes: int


def rolled_down(measures: Measures, thickness_mm: float, mill: MillTerms) -> Rolled | None:
    """The flat piece rolled to `thickness_mm`, None where the mill does not take it or it is not thicker.

    By volume: its width stays (it spreads a little, which is left as a reserve), its length grows as the
    thickness shrinks. Each pass takes at most the mill's share of the thickness. 50 x 10 x 2.0 to 1.5:
    66.67 x 10, in 3 passes of 10 %.
    """
    is_flat = measures.kind is not PieceKind.WIRE
    if not is_flat or measures.thickness_mm <= thickness_mm + ALIKE_MM or measures.width_mm > mill.width_mm:
        return None
    share = 1 - mill.pass_percent / 100
    passes = math.ceil(math.log(thickness_mm / measures.thickness_mm) / math.log(share) - 1e-9)
    if passes > mill.most_passes:
        return None
    length = measures.length_mm * measures.thickness_mm / thickness_mm
    return Rolled(length, measures.width_mm, thickness_mm, passes)
