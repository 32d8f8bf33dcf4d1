"""What it takes to make a ring larger or smaller later, and whether this design bears it. Lengths in mm."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from studio.craft.designs import Design, Pattern, System
from studio.craft.form import FormKind
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.practice import ResizingTerms
from studio.craft.profiles import neutral_mm
from studio.craft.reckonings import Reckoning
from studio.craft.resizing_stones import StoneLimits, stone_limits
from studio.craft.weights import mass_g

US_SIZE_MM = 0.032 * 25.4 * math.pi
"""A whole US size on the circumference: 0.032 in of diameter, 2.5535 mm."""

STEPS: Mapping[System, tuple[tuple[str, float], ...]] = {
    System.UK: (("one size", 1.25), ("half a size", 0.625)),
    System.US: (
        ("one size", US_SIZE_MM),
        ("half a size", US_SIZE_MM / 2),
        ("a quarter size", US_SIZE_MM / 4),
    ),
    System.ISO: (("one size", 1.0),),
    System.JP: (("one number", math.pi / 3),),
    System.CH: (("one size", 1.0), ("half a size", 0.5)),
    System.DE: (("one mm across", math.pi), ("a quarter mm across", math.pi / 4)),
    System.HK: (("one number, about", 25.5 / 24),),
    System.IN: (("one number, about", 1.0),),
}
"""What one step of each system is on the circumference. Each follows from how the system counts; by
table, 25.5 mm in 24 numbers (HK) and 30 mm in 30 (IN)."""


@dataclass(frozen=True, slots=True)
class SizeStep:
    """One step of a system, for this ring.

    `change_mm` is let in for a larger ring and taken out for a smaller one: the same on the circumference and
    on the strip, however thick or wide. `metal_g` is what that piece weighs. `hammered_mm` is the thickness
    left where the ring is hammered or stretched up instead, and `thinner_percent` how much less it is.
    """

    system: System
    name: str
    change_mm: float
    metal_g: float
    hammered_mm: float
    thinner_percent: float


@dataclass(frozen=True, slots=True)
class Resizing:
    """Whether and how a ring can be resized.

    `reasons` are why it cannot, in words; none, and it can. `by_hammer` says whether a little more can come
    from the hammer or the stretcher instead of a piece let in, up to `hammer_most_mm`. With stones it is
    changed by `most_mm` of circumference at most, and those in `out_first` are taken out before any heat.
    """

    steps: tuple[SizeStep, ...]
    reasons: tuple[str, ...]
    by_hammer: bool
    hammer_most_mm: float
    most_mm: float | None = None
    out_first: tuple[str, ...] = ()

    @property
    def is_possible(self) -> bool:
        """Whether the ring can be made larger and smaller."""
        return not self.reasons


def resizing(reckoning: Reckoning, particulars: Particulars = NOT_ASKED) -> Resizing:
    """What every step takes or adds for this ring, and whether its design bears it.

    Plain flat 6 x 1.4 mm of silver 925 on 57 mm: one UK size is 1.25 mm and 0.11 g; hammered up by it the
    ring thins to 1.37 mm. Whether it can be done goes by the studio's own limits. A ring with stones has the
    steps that are small enough for them alone, and is never hammered up: that would loosen them.
    """
    terms = reckoning.practice.resizing
    design = reckoning.design
    limits = limits_of(reckoning, particulars)
    reasons = (*why_not(design, terms), *limits.reasons)
    most_mm = terms.stones_step_mm if particulars.stones else None
    return Resizing(
        tuple(
            _step(reckoning, system, name, change_mm)
            for system, named in STEPS.items()
            for name, change_mm in named
            if most_mm is None or change_mm <= most_mm
        ),
        reasons,
        not reasons
        and most_mm is None
        and design.pattern is Pattern.PLAIN
        and design.thickness_mm >= terms.hammer_from_mm,
        terms.hammer_most_mm,
        most_mm,
        limits.out_first,
    )


def limits_of(reckoning: Reckoning, particulars: Particulars) -> StoneLimits:
    """What the stones of this ring mean for a later change of its size."""
    return stone_limits(
        particulars, reckoning.design, reckoning.circumference_mm, reckoning.practice.resizing
    )


def why_not(design: Design, terms: ResizingTerms) -> tuple[str, ...]:
    """Why a ring of this design is not to be resized, each as the end of a sentence; () where it can be."""
    found = []
    if design.pattern in {Pattern.ROLLED, Pattern.STAMPED}:
        found.append(f"its {design.pattern} pattern runs all round and breaks at the seam")
    if design.form.kind is FormKind.ANTICLASTIC:
        found.append("its edges are stretched, and a piece let in would not follow their curve")
    if design.thickness_mm < terms.thin_mm:
        found.append(f"it is thinner than {terms.thin_mm:g} mm, too thin for a second seam")
    return tuple(found)


def hammered_mm(reckoning: Reckoning, change_mm: float) -> float:
    """Thickness left when the ring is hammered or stretched up by `change_mm` of circumference.

    Width and volume are kept: t' (C' + 2 pi c t'/t) = t (C + 2 pi c), the neutral line rising with t'. Flat
    6 x 1.4 mm on 57 mm, one UK size: 1.373 mm. Never read for a smaller ring, which nobody hammers together.
    """
    design, around = reckoning.design, reckoning.circumference_mm
    t = design.thickness_mm
    rise = 2 * math.pi * neutral_mm(design.profile, design.width_mm, t) / t
    volume = t * (around + rise * t)
    larger = around + change_mm
    return (math.sqrt(larger**2 + 4 * rise * volume) - larger) / (2 * rise)


def _step(reckoning: Reckoning, system: System, name: str, change_mm: float) -> SizeStep:
    thick, before = hammered_mm(reckoning, change_mm), reckoning.design.thickness_mm
    return SizeStep(
        system,
        name,
        change_mm,
        mass_g(reckoning.density_g_cm3, reckoning.section_mm2, change_mm),
        thick,
        100 * (1 - thick / before),
    )
