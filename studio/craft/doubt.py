"""How sure a ring's size is: what measuring and making leave open on its circumference, in mm.

The causes are independent of each other, so their squares add up. `doubt` is asked for a band bent in two
ways with `shift_mm`, the range over which its waist may shift.
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
SHIFT = "shift of the waist"
_ROOT_TWELVE = math.sqrt(12)
"""Spread of something that may lie anywhere within 1: the uniform distribution."""


@dataclass(frozen=True, slots=True)
class Term:
    """One cause: its standard deviation on the circumference in mm, and whether it lies in the measuring."""

    cause: str
    sd_mm: float
    is_measuring: bool


@dataclass(frozen=True, slots=True)
class Doubt:
    """The doubt on a ring's circumference, by its causes.

    `bias_mm` is how much smaller the ring is to be expected than it is reckoned: half of the range over which
    the waist of a band bent in two ways may shift.
    """

    terms: tuple[Term, ...]
    bias_mm: float = 0.0

    @property
    def sd_mm(self) -> float:
        """The standard deviation of all causes together, in mm."""
        return math.hypot(*(term.sd_mm for term in self.terms))

    @property
    def plus_minus_mm(self) -> float:
        """What nine rings in ten stay within, either side, in mm of circumference."""
        return NINE_IN_TEN * self.sd_mm

    @property
    def within_mm(self) -> float:
        """What nine rings in ten come within of the size: the doubt, and what the ring may be smaller by."""
        return self.plus_minus_mm + self.bias_mm

    @property
    def chance(self) -> float:
        """The chance, 0 to 1, that the ring is within a quarter US or half a UK size; 1 without any doubt."""
        sd = self.sd_mm
        if sd == 0:
            return 1.0 if abs(self.bias_mm) <= NEAR_ENOUGH_MM else 0.0
        wide = sd * math.sqrt(2)
        above, below = NEAR_ENOUGH_MM - self.bias_mm, NEAR_ENOUGH_MM + self.bias_mm
        return (math.erf(above / wide) + math.erf(below / wide)) / 2

    @property
    def largest(self) -> Term:
        """The cause that leaves most open."""
        return max(self.terms, key=lambda term: term.sd_mm)


def doubt(
    finger: Finger, stretched: Stretch, length_mm: float, practice: Practice, shift_mm: float = 0.0
) -> Doubt:
    """The doubt on the circumference of a ring for `finger`, its neutral line `length_mm` long.

    A finger anywhere within the step of a gauge has the standard deviation step / sqrt 12 (the uniform
    distribution), one told by the customer twice that; strip 0.02 mm too thick takes pi x 0.02 mm from the
    inside. Half-size US gauge, L 61.40 mm, stretch 0.6 %: step and making alone 0.55 mm, so ± 0.90 and 76 %.
    `shift_mm` (2 pi m of an anticlastic band) is the range by which the waist may come out smaller, anywhere
    within it: its standard deviation is range / sqrt 12, its middle a bias.
    """
    terms = practice.doubt
    found = (
        Term(STEP, _times(finger, practice) * _step_mm(finger, practice) / _ROOT_TWELVE, is_measuring=True),
        Term(CALIBRATION, terms.calibration_mm, is_measuring=True),
        Term(DAY, _day_mm(finger, practice), is_measuring=True),
        Term(THICKNESS, math.pi * terms.thickness_mm, is_measuring=False),
        Term(CUT, terms.cut_mm, is_measuring=False),
        Term(STRETCH, stretched.sd_percent / 100 * length_mm, is_measuring=False),
    )
    if not shift_mm:
        return Doubt(found)
    return Doubt((*found, Term(SHIFT, shift_mm / _ROOT_TWELVE, is_measuring=False)), shift_mm / 2)


def doubt_figures(
    finger: Finger,
    stretched: Stretch,
    length_mm: float,
    practice: Practice,
    notes: Notes,
    *,
    shift_mm: float = 0.0,
) -> Doubt:
    """The doubt, with the working of its ± and of its chance."""
    found = doubt(finger, stretched, length_mm, practice, shift_mm)
    terms = practice.doubt
    is_told = _times(finger, practice) != 1
    told = f"{_TIMES} × " if is_told else ""
    sums = (
        f"({told}{STEP} ÷ √12)² + ({CALIBRATION})² + ({DAY})² + (π × {THICKNESS})² + ({CUT})²"
        f" + ({STRETCH} ÷ 100 × {_LINE})²"
    )
    shift: tuple[Input, ...] = ()
    if shift_mm:
        sums += f" + ({SHIFT} ÷ √12)²"
        shift = (Input(SHIFT, shift_mm, "mm"),)
    notes.note(
        "ring.doubt_mm",
        found.plus_minus_mm,
        "mm",
        f"1.645 × √({sums})",
        Input("how it is known", "told, not measured" if is_told else _known(finger)),
        *((Input(_TIMES, terms.told_times),) if is_told else ()),
        Input(STEP, _step_mm(finger, practice), "mm"),
        Input(CALIBRATION, terms.calibration_mm, "mm"),
        Input(DAY, _day_mm(finger, practice), "mm"),
        Input(THICKNESS, terms.thickness_mm, "mm"),
        Input(CUT, terms.cut_mm, "mm"),
        Input(STRETCH, stretched.sd_percent, "%"),
        Input(_LINE, length_mm, "mm"),
        *shift,
        source=f"each cause: {practice.source_of('doubt')}; 1.645: table of the normal distribution",
    )
    near, unsure = Input("near enough", NEAR_ENOUGH_MM, "mm"), Input("doubt", found.plus_minus_mm, "mm")
    inputs: tuple[Input, ...] = (near, unsure)
    formula = "erf(near enough ÷ (doubt ÷ 1.645 × √2))"
    if shift_mm:
        notes.note(
            "ring.bias_mm", found.bias_mm, "mm", f"{SHIFT} ÷ 2", *shift, source="the middle of its range"
        )
        bias = Input("bias", found.bias_mm, "mm")
        notes.note("ring.within_mm", found.within_mm, "mm", "doubt + bias", unsure, bias, source="summed")
        wide = "(doubt ÷ 1.645 × √2)"
        formula = f"(erf((near enough − bias) ÷ {wide}) + erf((near enough + bias) ÷ {wide})) ÷ 2"
        inputs = (*inputs, bias)
    notes.note(
        "ring.chance",
        found.chance,
        "of 1",
        formula,
        *inputs,
        source="normal distribution; near enough is a quarter US or half a UK size",
    )
    return found


_TIMES = "times the step when told"
_LINE = "neutral line of the closed ring"


def _is_told(finger: Finger) -> bool:
    return known_measurement(finger)[0] is Measured.TOLD


def _known(finger: Finger) -> str:
    return "measured on two days" if finger.is_on_two_days else "measured"


def _times(finger: Finger, practice: Practice) -> float:
    """How many steps of a gauge a size is as coarse as: a told one more than one."""
    return practice.doubt.told_times if finger.gauge is None and _is_told(finger) else 1.0


def _step_mm(finger: Finger, practice: Practice) -> float:
    return practice.doubt.steps_mm[finger.system] if finger.gauge is None else finger.gauge.step_mm


def _day_mm(finger: Finger, practice: Practice) -> float:
    is_twice = finger.is_on_two_days and not _is_told(finger)
    return practice.doubt.two_days_mm if is_twice else practice.doubt.day_mm
