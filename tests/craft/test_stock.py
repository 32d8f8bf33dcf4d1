"""Stock and finished ring, and the length by each rule."""

import math
from dataclasses import replace

import pytest

from studio.craft.designs import (
    WIRE_PROFILES,
    Design,
    Finger,
    Measured,
    Pattern,
    Profile,
    Stock,
    System,
    design,
)
from studio.craft.errors import Refused
from studio.craft.measured_strip import in_measured_stock
from studio.craft.practice import COMMON_PRACTICE, LengthRule
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.stock import faces_filed

FINGER = Finger(System.ISO, "57", 57.0, Measured.GAUGE, 6.0)
UK = Finger(System.UK, "O½", 55.625, Measured.GAUGE, 6.0)
THICK = design(Profile.FLAT, 6, 2.5, "silver-925")
HALF_ROUND = design(Profile.HALF_ROUND, 5, 1.7, "silver-925")


def by(rule: LengthRule, chosen: Design = HALF_ROUND) -> Reckoning:
    return reckon(FINGER, chosen, replace(COMMON_PRACTICE, length_rule=rule))


@pytest.mark.parametrize(
    ("chosen", "rule", "length", "beside"),
    [
        (HALF_ROUND, LengthRule.CENTROID, 61.533, {LengthRule.MID_LINE: 62.341}),
        (HALF_ROUND, LengthRule.MID_LINE, 62.341, {LengthRule.CENTROID: 61.533}),
        (HALF_ROUND, LengthRule.DIN, 61.533, {LengthRule.MID_LINE: 62.341}),
        # by hand: r = 9.0718, r/t = 3.6287, k = 0.65 + 0.5 x 0.55975 = 0.92988; 57 + pi x 2.5 x k
        (THICK, LengthRule.CENTROID, 64.854, {LengthRule.DIN: 64.303}),
        (THICK, LengthRule.DIN, 64.303, {LengthRule.MID_LINE: 64.854}),
        (design(Profile.FLAT, 6, 1.4, "silver-925"), LengthRule.DIN, 61.398, {}),
    ],
)
def test_lengths_stand_side_by_side_where_they_differ(
    chosen: Design, rule: LengthRule, length: float, beside: dict[LengthRule, float]
) -> None:
    found = by(rule, chosen)
    assert found.true_length_mm == pytest.approx(length, abs=0.001)
    assert dict(found.lengths.beside) == {one: pytest.approx(mm, abs=0.001) for one, mm in beside.items()}


@pytest.mark.parametrize("rule", LengthRule)
@pytest.mark.parametrize("chosen", [HALF_ROUND, THICK])
def test_the_length_follows_from_the_neutral_line_and_the_working_says_which(
    rule: LengthRule, chosen: Design
) -> None:
    found = by(rule, chosen)
    assert found.true_length_mm == pytest.approx(57 + 2 * math.pi * found.neutral_mm)
    source = {one.figure: one.source for one in found.working}["blank.neutral_mm"]
    words = {LengthRule.CENTROID: "centroid", LengthRule.MID_LINE: "middle", LengthRule.DIN: "DIN 6935"}
    assert words[found.lengths.rule] in source


def test_a_tight_bend_warns_by_whichever_rule_it_is_reckoned() -> None:
    told = {
        rule: [c.message for c in by(rule, THICK).caveats if c.code == "din-length"] for rule in LengthRule
    }
    centroid, din = (" ".join(told[rule]) for rule in (LengthRule.CENTROID, LengthRule.DIN))
    assert "by DIN 6935 the length is 64.30 mm, 0.55 shorter. What is too long can be filed." in centroid
    assert "reckoned by DIN 6935, 0.55 mm shorter than by the middle of the thickness." in din
    assert "What is too short is lost." in din


def test_finishing_takes_its_allowance_off_each_worked_face_and_opens_the_inside() -> None:
    plain = reckon(UK, design(Profile.FLAT, 6, 1.6, "silver-925"))
    hammered = reckon(UK, design(Profile.FLAT, 6, 1.6, "silver-925", pattern=Pattern.HAMMERED))
    assert (faces_filed(plain.design), faces_filed(hammered.design)) == (("inside", "outside"), ("inside",))
    assert plain.finished_thickness_mm == pytest.approx(1.5)
    assert hammered.finished_thickness_mm == pytest.approx(1.55)
    assert plain.opening_mm == hammered.opening_mm == pytest.approx(2 * math.pi * 0.05)
    coarse = reckon(UK, plain.design, replace(COMMON_PRACTICE, finishing_allowance_mm=0.1))
    assert (coarse.circumference_mm, coarse.mark_mm, coarse.ring_g) == (
        plain.circumference_mm,
        plain.mark_mm,
        plain.ring_g,
    )


def test_a_measured_strip_has_its_own_mark_and_the_ring_stays_as_large() -> None:
    ordered = reckon(UK, design(Profile.FLAT, 6, 1.6, "silver-925"))
    found = in_measured_stock(ordered, 1.63)
    assert ordered.mark_mm == pytest.approx(61.65, abs=0.005)
    assert found.mark_mm == pytest.approx(55.625 + math.pi * 1.63 + 1.0)
    assert found.circumference_mm == ordered.circumference_mm
    assert found.blank_g > ordered.blank_g
    with pytest.raises(Refused) as refused:
        in_measured_stock(ordered, 0.1)
    assert [one.field for one in refused.value.refusals] == ["thickness"]


def test_a_thicker_wire_is_wider_too() -> None:
    found = in_measured_stock(reckon(UK, design(Profile.ROUND, 2, 2, "silver-925")), 2.1)
    assert (found.design.width_mm, found.design.thickness_mm) == (2.1, 2.1)


@pytest.mark.parametrize("profile", Profile)
def test_a_strip_weighs_its_rectangle_and_profile_wire_its_section(profile: Profile) -> None:
    width = 2.0 if profile in WIRE_PROFILES else 4.0
    strip, wire = (reckon(UK, design(profile, width, 2, "silver-925", stock)) for stock in Stock)
    assert strip.stock_section_mm2 == pytest.approx(width * 2)
    assert wire.stock_section_mm2 == pytest.approx(wire.section_mm2)
    assert (strip.mark_mm, strip.ring_g) == (wire.mark_mm, wire.ring_g)
    for one in (strip, wire):
        weight = one.density_g_cm3 * one.stock_section_mm2 / 1000
        assert one.blank_g == pytest.approx(weight * one.mark_mm)
        assert one.issue_g == pytest.approx(weight * (one.mark_mm + one.kerf_mm))
