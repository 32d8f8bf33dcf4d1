"""How sure a size is."""

import math
import random
from dataclasses import replace

import pytest

from studio.craft.designs import Finger, Measured, Pattern, Profile, System, design
from studio.craft.doubt import CALIBRATION, DAY, STEP, STRETCH, Doubt, Term, doubt
from studio.craft.practice import COMMON_PRACTICE, DoubtTerms
from studio.craft.reckonings import reckon
from studio.craft.stretch import predictive_sd_percent, stretch

US_SEVEN = Finger(System.US, "7", 54.42, Measured.GAUGE, 6.0)
PLAIN = design(Profile.FLAT, 6, 1.4, "silver-925")
HAMMERED = design(Profile.FLAT, 6, 1.4, "silver-925", pattern=Pattern.HAMMERED)
EXACT = replace(
    COMMON_PRACTICE,
    doubt=DoubtTerms(dict.fromkeys(System, 0.0), 0.0, 0.0, 0.0, 0.0),
)


def test_step_and_making_of_a_half_size_gauge_make_nine_tenths_of_a_millimetre() -> None:
    # Worked by hand: 1.277 / sqrt 12 = 0.3686, pi x 0.02 = 0.0628, 0.15, 0.006 x 61.40 = 0.3684; root 0.546.
    bare = replace(COMMON_PRACTICE, doubt=replace(COMMON_PRACTICE.doubt, calibration_mm=0.0, day_mm=0.0))
    expected = replace(stretch(HAMMERED, bare), sd_percent=0.6)
    found = doubt(US_SEVEN, expected, 61.40, bare)
    assert found.sd_mm == pytest.approx(0.546, abs=0.001)
    assert found.plus_minus_mm == pytest.approx(0.90, abs=0.005)
    assert found.chance == pytest.approx(0.76, abs=0.005)


def test_without_any_cause_nothing_is_in_doubt() -> None:
    found = reckon(US_SEVEN, PLAIN, EXACT).doubt
    assert found.plus_minus_mm == 0
    assert found.chance == 1


def test_a_size_that_was_told_is_twice_as_coarse() -> None:
    told = replace(US_SEVEN, measured=Measured.TOLD)
    of_told, of_gauge = (reckon(finger, PLAIN).doubt.terms[0] for finger in (told, US_SEVEN))
    assert of_told.cause == of_gauge.cause == STEP
    assert of_told.sd_mm == pytest.approx(2 * of_gauge.sd_mm)


def test_the_largest_cause_is_the_one_to_mend() -> None:
    assert reckon(US_SEVEN, PLAIN).doubt.largest.cause == STEP
    fine = Finger(System.CH, "14", 54.0, Measured.GAUGE, 6.0)
    assert reckon(fine, PLAIN).doubt.largest.cause == DAY
    assert reckon(fine, HAMMERED).doubt.largest.cause == STRETCH


def test_a_pattern_makes_a_size_less_sure_and_a_plain_ring_has_no_doubt_of_stretch() -> None:
    plain, hammered = reckon(US_SEVEN, PLAIN).doubt, reckon(US_SEVEN, HAMMERED).doubt
    assert hammered.plus_minus_mm > plain.plus_minus_mm
    assert hammered.chance < plain.chance
    assert [term.sd_mm for term in plain.terms if term.cause == STRETCH] == [0.0]


def test_the_next_ring_s_stretch_spreads_as_a_student_t_of_four_degrees() -> None:
    from scipy import stats

    sd = predictive_sd_percent(1.0)
    by_scipy = stats.t(4, scale=1.0 / stats.t(4).ppf(0.95)).std()
    assert sd == pytest.approx(float(by_scipy), rel=2e-4)  # the printed table has four digits


def test_the_chance_agrees_with_a_simulation() -> None:
    # Independent reference: draw the causes themselves, the gauge's step as a uniform, and count.
    draw = random.Random(7)  # noqa: S311  it draws rings, no secrets
    terms = COMMON_PRACTICE.doubt
    step = terms.steps_mm[System.US]
    count, near, within = 60_000, 0, 0
    expected = replace(stretch(PLAIN, COMMON_PRACTICE), sd_percent=0.6)
    found = doubt(US_SEVEN, expected, 61.40, COMMON_PRACTICE)
    for _ in range(count):
        error = (
            draw.uniform(-step / 2, step / 2)
            + draw.gauss(0, terms.calibration_mm)
            + draw.gauss(0, terms.day_mm)
            + math.pi * draw.gauss(0, terms.thickness_mm)
            + draw.gauss(0, terms.cut_mm)
            + 61.40 * draw.gauss(0, 0.006)
        )
        near += abs(error) <= 0.64
        within += abs(error) <= found.plus_minus_mm
    assert near / count == pytest.approx(found.chance, abs=0.02)
    assert within / count == pytest.approx(0.90, abs=0.02)


def test_one_cause_alone_is_its_own_doubt() -> None:
    alone = Doubt((Term(CALIBRATION, 0.64, is_measuring=True),))
    assert alone.chance == pytest.approx(0.6827, abs=0.0001)  # one standard deviation, table of the normal
