"""How sure a ring's size is: what measuring and making leave open on its circumference, in mm.

The causes are independent of each other, so their squares add up.
"""

import math
from dataclasses import dataclass

from studio.craft.designs import Finger, Measured
from studio.craft.fit import known_measurement
from studio.craft.practice import Practice
from studio.craft.stretch import Stretch
from studio.craft.working import Input, Notes

NINE_IN_TEN = 1.645
"""So many standard deviations either side hold nine in ten: a table of the normal distribution."""
NEAR_ENOUGH_MM = 0.64
"""A quarter of a US size on the circumference (0.032 in x pi / 4), or half a UK size (1.25 / 2)."""
STEP, CALIBRATION, DAY = "step of the gauge", "calibration of the gauge", "day of the finger"
THICKNESS, CUT, STRETCH = "thickness of the strip", "saw cut and joint", "stretch of the pattern"


@dataclass(frozen=True, slots=True)
class Term:
    """One cause: its standard deviation on the circumference in mm, and whether it lies in the measuring."""

    cause: str
    sd_mm: float
    is_measuring: bool


@dataclass(frozen=True, slots=True)
class Doubt:
    """The doubt on a ring's circumference, by its causes."""

    terms: tuple[Term, ...]

    @property
    def sd_mm(self) -> float:
        """The standard deviation of all causes together, in mm."""
        return math.hypot(*(term.sd_mm for term in self.terms))

    @property
    def plus_minus_mm(self) -> float:
        """What nine rings in ten stay within, either side, in mm of circumference."""
        return NINE_IN_TEN * self.sd_mm

    @property
    def chance(self) -> float:
        """The chance, 0 to 1, that the ring is within a quarter US or half a UK size; 1 without any doubt."""
        return 1.0 if self.sd_mm == 0 else math.erf(NEAR_ENOUGH_MM / (self.sd_mm * math.sqrt(2)))

    @property
    def largest(self) -> Term:
        """The cause that leaves most open."""
        return max(self.terms, key=lambda term: term.sd_mm)


def doubt(finger: Finger, stretched: Stretch, length_mm: float, practice: Practice) -> Doubt:
    """The doubt on the circumference of a ring for `finger`, its neutral line `length_mm` long.

    A finger anywhere within the step of a gauge has the standard deviation step / sqrt 12 (the uniform
    distribution), one told by the customer twice that; strip 0.02 mm too thick takes pi x 0.02 mm from the
    inside. Half-size US gauge, L 61.40 mm, stretch 0.6 %: step and making alone 0.55 mm, so ± 0.90 and 76 %.
    """
    terms = practice.doubt
    return Doubt(
        (
            Term(STEP, _step_mm(finger, practice) / math.sqrt(12), is_measuring=True),
            Term(CALIBRATION, terms.calibration_mm, is_measuring=True),
            Term(DAY, terms.day_mm, is_measuring=True),
            Term(THICKNESS, math.pi * terms.thickness_mm, is_measuring=False),
            Term(CUT, terms.cut_mm, is_measuring=False),
            Term(STRETCH, stretched.sd_percent / 100 * length_mm, is_measuring=False),
        )
    )


def doubt_figures(
    finger: Finger, stretched: Stretch, length_mm: float, practice: Practice, notes: Notes
) -> Doubt:
    """The doubt, with the working of its ± and of its chance."""
    found = doubt(finger, stretched, length_mm, practice)
    terms = practice.doubt
    is_told = known_measurement(finger)[0] is Measured.TOLD
    source = f"each cause: {practice.source}; 1.645: table of the normal distribution"
    sums = (
        f"({STEP} ÷ √12)² + ({CALIBRATION})² + ({DAY})² + (π × {THICKNESS})² + ({CUT})²"
        f" + ({STRETCH} ÷ 100 × neutral line of the closed ring)²"
    )
    notes.note(
        "ring.doubt_mm",
        found.plus_minus_mm,
        "mm",
        f"1.645 × √({sums})",
        Input("how it is known", "told: twice the step" if is_told else "measured"),
        Input(STEP, _step_mm(finger, practice), "mm"),
        Input(CALIBRATION, terms.calibration_mm, "mm"),
        Input(DAY, terms.day_mm, "mm"),
        Input(THICKNESS, terms.thickness_mm, "mm"),
        Input(CUT, terms.cut_mm, "mm"),
        Input(STRETCH, stretched.sd_percent, "%"),
        Input("neutral line of the closed ring", length_mm, "mm"),
        source=source,
    )
    notes.note(
        "ring.chance",
        found.chance,
        "of 1",
        "erf(near enough ÷ (doubt ÷ 1.645 × √2))",
        Input("near enough", NEAR_ENOUGH_MM, "mm"),
        Input("doubt", found.plus_minus_mm, "mm"),
        source="normal distribution; near enough is a quarter US or half a UK size",
    )
    return found


def _step_mm(finger: Finger, practice: Practice) -> float:
    step = practice.doubt.steps_mm[finger.system]
    return 2 * step if known_measurement(finger)[0] is Measured.TOLD else step
