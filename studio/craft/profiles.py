"""The sections a ring can have: area, neutral line, outline. Width w, thickness t, all in mm.

The neutral line is the height above the inside face at which a strip keeps its length when it is bent: the
section's centroid (Pappus: volume = area x path of the centroid).
"""

import math

from studio.craft.designs import Profile

PROFILE_NAMES: dict[Profile, str] = {
    Profile.FLAT: "flat",
    Profile.HALF_ROUND: "half-round",
    Profile.LOW_DOME: "low dome",
    Profile.COURT: "court",
    Profile.FLAT_COURT: "flat court",
    Profile.ROUND: "round wire",
    Profile.SQUARE: "square wire",
    Profile.KNIFE_EDGE: "knife edge",
}

_AREA: dict[Profile, tuple[str, float]] = {
    Profile.FLAT: ("width × thickness", 1.0),
    Profile.HALF_ROUND: ("π × width × thickness ÷ 4", math.pi / 4),
    Profile.LOW_DOME: ("2 × width × thickness ÷ 3", 2 / 3),
    Profile.COURT: ("π × width × thickness ÷ 4", math.pi / 4),
    Profile.FLAT_COURT: ("π × width × thickness ÷ 4", math.pi / 4),
    Profile.ROUND: ("π × width × thickness ÷ 4", math.pi / 4),
    Profile.SQUARE: ("width × thickness", 1.0),
    Profile.KNIFE_EDGE: ("width × thickness ÷ 2", 1 / 2),
}
_NEUTRAL: dict[Profile, tuple[str, float]] = {
    Profile.FLAT: ("thickness ÷ 2", 1 / 2),
    Profile.HALF_ROUND: ("4 × thickness ÷ (3 × π)", 4 / (3 * math.pi)),
    Profile.LOW_DOME: ("2 × thickness ÷ 5", 2 / 5),
    Profile.COURT: ("thickness ÷ 2", 1 / 2),
    Profile.FLAT_COURT: ("thickness − 4 × thickness ÷ (3 × π)", 1 - 4 / (3 * math.pi)),
    Profile.ROUND: ("thickness ÷ 2", 1 / 2),
    Profile.SQUARE: ("thickness ÷ 2", 1 / 2),
    Profile.KNIFE_EDGE: ("thickness ÷ 3", 1 / 3),
}


def section_mm2(profile: Profile, width_mm: float, thickness_mm: float) -> float:
    """Area of the section in mm2. Plane geometry; half-round 4 x 1.7 mm (half an ellipse): 5.341."""
    return _AREA[profile][1] * width_mm * thickness_mm


def neutral_mm(profile: Profile, width_mm: float, thickness_mm: float) -> float:  # noqa: ARG001  one shape for all
    """Height of the neutral line above the inside face in mm; half-round 4 x 1.7 mm: 0.7215.

    The centroid of the section. For a court it is counted from the crown of the inside.
    """
    return _NEUTRAL[profile][1] * thickness_mm


def section_formula(profile: Profile) -> str:
    """How the section's area is worked out, in words."""
    return _AREA[profile][0]


def neutral_formula(profile: Profile) -> str:
    """How the height of the neutral line is worked out, in words."""
    return _NEUTRAL[profile][0]


def outline(
    profile: Profile, width_mm: float, thickness_mm: float, points: int = 64
) -> tuple[tuple[float, float], ...]:
    """The closed outline of the section in mm: x across the width from -w/2, y from the inside face outward.

    The lowest point lies at y = 0, the highest at y = t; corners run anticlockwise from the lower left and
    the first is not repeated. `points` is the number of straight pieces that stand for one curved side.
    """
    half = width_mm / 2
    left, right = (-half, 0.0), (half, 0.0)
    match profile:
        case Profile.FLAT | Profile.SQUARE:
            return (left, right, (half, thickness_mm), (-half, thickness_mm))
        case Profile.KNIFE_EDGE:
            return (left, right, (0.0, thickness_mm))
        case Profile.HALF_ROUND:
            return _arc(half, 0.0, thickness_mm, points)
        case Profile.LOW_DOME:
            across = [half - width_mm * step / points for step in range(points + 1)]
            return tuple((x, thickness_mm * (1 - (x / half) ** 2)) for x in across)
        case Profile.FLAT_COURT:
            return tuple((-x, thickness_mm - y) for x, y in _arc(half, 0.0, thickness_mm, points))
        case Profile.COURT | Profile.ROUND:
            middle = thickness_mm / 2
            outside = _arc(half, middle, middle, points)
            return outside + tuple((-x, thickness_mm - y) for x, y in outside[1:-1])


def _arc(half: float, base: float, rise: float, points: int) -> tuple[tuple[float, float], ...]:
    """The upper half of an ellipse from right to left, its ends on y = `base`."""
    angles = [math.pi * step / points for step in range(points + 1)]
    curve = [(half * math.cos(angle), base + rise * math.sin(angle)) for angle in angles]
    return ((half, base), *curve[1:-1], (-half, base))
