"""Lengths of the strip or wire a ring is made of, in mm. C is the ring's inside circumference."""

import math

from studio.craft.designs import Profile
from studio.craft.profiles import neutral_mm

DIN_SECTIONS = frozenset({Profile.FLAT, Profile.SQUARE})
_DIN_FROM = 0.65
_DIN_TO = 5.0
"""Bends that DIN 6935 corrects, as inside radius over thickness."""


def true_length(profile: Profile, width_mm: float, thickness_mm: float, circumference_mm: float) -> float:
    """Length of the neutral line of a closed ring, in mm.

    C + 2 pi c, with c the height of the neutral line above the inside face (mid-thickness for flat strip).
    Strip 6 x 1.4 mm closed on C = 57 mm: 61.40 mm; half-round 4 x 1.7: 61.53. Source: mean of inner and
    outer circumference, common practice; Pappus for other sections.
    """
    return circumference_mm + 2 * math.pi * neutral_mm(profile, width_mm, thickness_mm)


def din_factor(thickness_mm: float, circumference_mm: float) -> float:
    """The factor k by which DIN 6935 moves the neutral line of a tight bend inward.

    0.65 + 0.5 log10(r/t), at most 1, with r the inside radius C/(2 pi). Source: DIN 6935, from memory.
    """
    ratio = circumference_mm / (2 * math.pi * thickness_mm)
    return 1.0 if ratio >= _DIN_TO else 0.65 + 0.5 * math.log10(ratio)


def din_length(profile: Profile, thickness_mm: float, circumference_mm: float) -> float | None:
    """True length by DIN 6935, C + 2 pi k t/2, in mm; None where it says nothing else than `true_length`.

    It corrects flat and square stock from r/t = 0.65 up to 5; below, the standard has no figure. 2 mm strip
    on D = 17.3 mm: 60.43 against 60.63 by mid-thickness.
    """
    ratio = circumference_mm / (2 * math.pi * thickness_mm)
    if profile not in DIN_SECTIONS or not _DIN_FROM <= ratio < _DIN_TO:
        return None
    return circumference_mm + math.pi * din_factor(thickness_mm, circumference_mm) * thickness_mm


def before_stretch(length_mm: float, stretch_percent: float) -> float:
    """Length that a pattern adding `stretch_percent` brings to `length_mm`: 61.40 at 1.1 % was 60.73."""
    return length_mm / (1 + stretch_percent / 100)
