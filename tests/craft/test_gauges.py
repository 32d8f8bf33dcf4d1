"""What measured a finger decides: the gauge's correction, its step, and a knuckle against its base."""

import math
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from studio.craft.designs import Design, Finger, Gauge, GaugeKind, Measured, Profile, System, design
from studio.craft.doubt import STEP
from studio.craft.neighbours import neighbouring_marks
from studio.craft.practice import COMMON_PRACTICE, FitRow, KnuckleTerms, Practice
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.working import Working

SET = Gauge(3, "Wide set", GaugeKind.SET, System.UK, 6.0, 1.25, 0.12, date(2026, 11, 3))
BAND = design(Profile.FLAT, 6, 1.6, "silver-925")
FINGER = Finger(System.UK, "O½", 55.625, Measured.GAUGE, 6.0)


def working(found: Reckoning, figure: str) -> Working:
    return next(one for one in found.working if one.figure == figure)


def test_the_correction_of_the_gauge_is_in_the_size_and_in_its_working() -> None:
    plain, corrected = reckon(FINGER, BAND), reckon(replace(FINGER, gauge=SET), BAND)
    assert corrected.circumference_mm == pytest.approx(55.625 + 0.12)
    assert corrected.true_length_mm - plain.true_length_mm == pytest.approx(0.12)
    step = working(corrected, "ring.circumference_mm")
    assert step.formula == "finger + correction of the gauge + fit"
    assert [(one.name, one.value) for one in step.inputs] == [
        ("size as given", "UK O½"),
        ("finger", 55.625),
        ("gauge", "Wide set, calibrated on 3 Nov 2026"),
        ("correction of the gauge", 0.12),
        ("fit", 0.0),
    ]
    assert working(plain, "ring.circumference_mm").formula == "finger + fit"


def test_a_gauge_that_was_never_calibrated_is_named_without_a_day() -> None:
    found = reckon(replace(FINGER, gauge=replace(SET, correction_mm=0.0, calibrated_on=None)), BAND)
    assert found.circumference_mm == 55.625
    assert ("gauge", "Wide set") in [
        (one.name, one.value) for one in working(found, "ring.circumference_mm").inputs
    ]


def test_a_range_is_corrected_at_its_larger_end() -> None:
    finger = replace(FINGER, to_label="P½", to_circumference_mm=56.875, gauge=SET)
    assert reckon(finger, BAND).circumference_mm == pytest.approx(56.875 + 0.12)


def test_the_doubt_goes_by_the_step_of_the_gauge() -> None:
    found = reckon(replace(FINGER, gauge=SET), BAND).doubt.terms[0]
    assert found.cause == STEP
    assert found.sd_mm == pytest.approx(1.25 / math.sqrt(12))
    assert reckon(FINGER, BAND).doubt.terms[0].sd_mm == pytest.approx(0.625 / math.sqrt(12))


def test_the_marks_of_neighbouring_sizes_are_corrected_once() -> None:
    found = reckon(replace(FINGER, gauge=SET), BAND)
    near = neighbouring_marks(found)
    assert near.marks_mm[near.own_row][near.own_column] == pytest.approx(found.mark_mm)


def test_a_profile_with_a_rule_of_its_own_goes_by_it() -> None:
    practice = Practice(fit_by_profile={Profile.COURT: (FitRow(8.0, 0.25), FitRow(None, 0.5))})
    told = Finger(System.UK, "O½", 55.625, Measured.TOLD)
    court, flat = (design(profile, 8, 1.6, "silver-925") for profile in (Profile.COURT, Profile.FLAT))
    assert [reckon(told, one, practice).fit_mm for one in (court, flat)] == [0.25, 1.0]
    gauged = Finger(System.UK, "O½", 55.625, Measured.GAUGE, 9.5)
    assert reckon(gauged, court, practice).fit_mm == 0.0  # the gauge is wider: never below nothing
    read = Finger(System.UK, "O½", 55.625, Measured.RING, 9.5)
    assert reckon(read, court, practice).fit_mm == -0.25  # the ring that was read by the same rule
    assert "0.25 mm is added" in reckon(told, court, practice).caveats[0].message


def knuckled(knuckle_mm: float, band: Design = BAND, **changes: Any) -> Reckoning:
    finger = Finger(
        System.ISO, "55", 55.0, Measured.GAUGE, 6.0, knuckle_label="59", knuckle_circumference_mm=knuckle_mm
    )
    return reckon(finger, replace(band, **changes), COMMON_PRACTICE)


def advice(found: Reckoning) -> list[str]:
    return [one.message for one in found.caveats if one.code == "knuckle"]


def test_a_knuckle_much_larger_than_the_base_is_sized_between() -> None:
    found = knuckled(59.0)
    (told,) = advice(found)
    assert told == (
        "The knuckle is 4.00 mm larger round than the ring. "
        "Size between them, 57.00 mm round, about ISO 57: an own fit of 2 mm. "
        "Or leave it to the base with sizing beads or a hinged shank."
    )
    step = working(found, "ring.knuckle_between_mm")
    assert (step.value, step.formula) == (57.0, "base + share ÷ 100 × (knuckle − base)")
    assert step.source == "common practice, no source"
    assert advice(knuckled(59.0, fit_mm=2.0)) == [
        "The knuckle is 2.00 mm larger round than the ring. See that the ring passes over it."
    ]


def test_a_knuckle_a_little_larger_is_only_told() -> None:
    assert advice(knuckled(57.5)) == [
        "The knuckle is 2.50 mm larger round than the ring. See that the ring passes over it."
    ]
    assert advice(knuckled(54.0)) == []


def test_the_base_of_a_wide_ring_has_its_fit_already() -> None:
    wide = replace(BAND, width_mm=10.0)  # 1.25 - 0.5 = +0.75 over a gauge 6 mm wide
    assert (
        "Size between them, 57.38 mm round, about ISO 57: an own fit of 2.38 mm."
        in advice(knuckled(59.0, wide))[0]
    )


def test_the_studio_says_itself_what_much_is_and_where_between() -> None:
    practice = Practice(knuckle=KnuckleTerms(much_mm=5.0))
    finger = Finger(System.ISO, "55", 55.0, Measured.GAUGE, 6.0, None, 59.0)
    assert "See that" in advice(reckon(finger, BAND, practice))[0]
    practice = Practice(knuckle=KnuckleTerms(share_percent=75.0))
    assert "58.00 mm round" in advice(reckon(finger, BAND, practice))[0]


def test_a_knuckle_is_corrected_as_the_base_is() -> None:
    finger = Finger(System.UK, "O½", 55.625, Measured.GAUGE, 6.0, "R½", 59.375, gauge=SET)
    assert "The knuckle is 3.75 mm larger" in advice(reckon(finger, BAND))[0]
    assert "57.62 mm round" in advice(reckon(finger, BAND))[0]
