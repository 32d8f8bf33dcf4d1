"""The formulas of a reckoning in bare floats: the least that its figures can cost. No words, no working."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from studio.craft.alloys import ALLOYS, density_g_cm3
from studio.craft.designs import PatternWhen, Profile, Stock
from studio.craft.practice import COMMON_PRACTICE
from studio.craft.reckonings import Reckoning
from studio.craft.stretch import prior_of

Formula = Callable[[float, float], float]
AREAS: dict[Profile, Formula] = {
    Profile.FLAT: lambda w, t: w * t,
    Profile.HALF_ROUND: lambda w, t: math.pi * w * t / 4,
    Profile.ROUND: lambda w, t: math.pi * w * t / 4,
    Profile.SQUARE: lambda w, t: w * t,
}
NEUTRALS: dict[Profile, Formula] = {
    Profile.FLAT: lambda _, t: t / 2,
    Profile.HALF_ROUND: lambda _, t: 4 * t / (3 * math.pi),
    Profile.ROUND: lambda _, t: t / 2,
    Profile.SQUARE: lambda _, t: t / 2,
}


@dataclass(frozen=True, slots=True)
class Given:
    """What the formulas start from, looked up beforehand. `on_flat`, `on_closed`: when a pattern goes on."""

    area: Formula
    neutral: Formula
    width: float
    thickness: float
    is_strip: bool
    finger: float
    fit: float
    density: float
    mean: float
    half_width: float
    on_flat: bool
    on_closed: bool
    step: float


@dataclass(frozen=True, slots=True)
class Bare:
    """The figures, in mm, g and a share of 1."""

    circumference: float
    diameter: float
    labels: tuple[float, ...]
    by_din: float
    true_length: float
    mark: float
    blank: float
    issue: float
    ring: float
    finished: float
    doubt: float
    chance: float


def given(ring: Reckoning) -> Given:
    """What the formulas start from, for a ring of the common practice."""
    design, finger = ring.design, ring.finger
    prior = prior_of(design, COMMON_PRACTICE)
    return Given(
        AREAS[design.profile],
        NEUTRALS[design.profile],
        design.width_mm,
        design.thickness_mm,
        design.stock is Stock.STRIP,
        finger.reckoned_circumference_mm,
        ring.fit_mm,
        density_g_cm3(ALLOYS[design.alloy]),
        prior.mean_percent,
        prior.half_width_percent,
        design.pattern_when is PatternWhen.FLAT,
        design.pattern_when is PatternWhen.CLOSED,
        COMMON_PRACTICE.doubt.steps_mm[finger.system],
    )


def bare(told: Given) -> Bare:
    """All figures of a ring: size, labels, lengths, weights, doubt."""
    w, t = told.width, told.thickness
    around = told.finger + told.fit
    across = around / math.pi
    labels = (
        round((around - 37.5) / 0.625) / 2,
        round((across - 11.6332) / 0.2032) / 4,
        round(around),
        round(3 * (across - 13)) + 1,
        round(2 * (around - 40)) / 2,
        round(4 * across) / 4,
    )
    section, neutral = told.area(w, t), told.neutral(w, t)
    stock = w * t if told.is_strip else section
    closed = around + 2 * math.pi * neutral
    ratio = around / (2 * math.pi * t)
    by_din = around + math.pi * t * (0.65 + 0.5 * math.log10(ratio)) if ratio < 5 else closed
    low = max(0.0, told.mean - told.half_width)
    true = closed / (1 + told.mean / 100) if told.on_closed else closed
    mark = (true / (1 + low / 100) if told.on_flat else true) + 1.0
    per_mm = told.density * stock / 1000
    blank = per_mm * mark
    ring = told.density * section * true / 1000
    stretch = told.half_width / 2.132 * math.sqrt(2) / 100 * closed
    sd = math.sqrt(told.step**2 / 12 + 0.1**2 + 0.3**2 + (math.pi * 0.02) ** 2 + 0.15**2 + stretch**2)
    return Bare(
        around,
        across,
        labels,
        by_din,
        true,
        mark,
        blank,
        blank + per_mm * COMMON_PRACTICE.kerf_mm,
        ring,
        ring * (1 - COMMON_PRACTICE.finishing_loss_percent / 100),
        1.645 * sd,
        math.erf(0.64 / (sd * math.sqrt(2))),
    )
