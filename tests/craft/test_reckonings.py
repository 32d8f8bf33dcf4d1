from typing import Any

import pytest

from studio.craft.designs import (
    Design,
    Finger,
    Measured,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
    design,
)
from studio.craft.errors import Refused, Why
from studio.craft.practice import Practice
from studio.craft.reckonings import Reckoning, reckon


def a_reckoning(
    *, finger: Finger | None = None, practice: Practice | None = None, **changes: Any
) -> Reckoning:
    chosen: dict[str, Any] = {
        "profile": Profile.FLAT,
        "width_mm": 6.0,
        "thickness_mm": 1.4,
        "alloy": "silver-925",
    }
    measured = finger or Finger(System.ISO, "57", 57.0, Measured.GAUGE, 6.0)
    return reckon(measured, design(**(chosen | changes)), practice or Practice())


def codes(found: Reckoning) -> list[str]:
    return [caveat.code for caveat in found.caveats]


def test_plain_as_worked() -> None:
    found = a_reckoning()
    assert found.circumference_mm == 57
    assert found.diameter_mm == pytest.approx(18.144, abs=0.0005)
    assert found.true_length_mm == pytest.approx(61.40, abs=0.005)
    assert found.mark_mm == pytest.approx(62.40, abs=0.005)
    assert found.trim_mm == 1
    assert found.flat_length_mm == pytest.approx(found.true_length_mm)
    assert found.caveats == ()


def test_hammered_flat_as_worked() -> None:
    found = a_reckoning(pattern=Pattern.HAMMERED)
    assert found.mark_mm == pytest.approx(62.09, abs=0.005)
    assert found.true_length_mm == pytest.approx(61.40, abs=0.005)
    assert found.flat_length_mm == pytest.approx(61.09, abs=0.005)


def test_hammered_after_closing_as_worked() -> None:
    found = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.CLOSED)
    assert found.true_length_mm == pytest.approx(60.73, abs=0.005)
    assert found.mark_mm == pytest.approx(61.73, abs=0.005)
    assert found.neutral_length_mm == pytest.approx(61.40, abs=0.005)


@pytest.mark.parametrize(
    ("when", "mark"), [(PatternWhen.FLAT, 61.398 / 1.016 + 1), (PatternWhen.CLOSED, 61.43)]
)
def test_a_typed_stretch_counts_for_both_moments(when: PatternWhen, mark: float) -> None:
    found = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=when, stretch_percent=1.6)
    assert found.mark_mm == pytest.approx(mark, abs=0.005)


def test_half_round_as_worked() -> None:
    found = a_reckoning(profile=Profile.HALF_ROUND, width_mm=4.0, thickness_mm=1.7)
    assert found.section_mm2 == pytest.approx(5.341, abs=0.0005)
    assert found.neutral_mm == pytest.approx(0.7215, abs=0.00005)
    assert found.true_length_mm == pytest.approx(61.53, abs=0.005)
    assert found.section_mm2 * found.true_length_mm == pytest.approx(328.6, abs=0.05)


def test_the_weights_of_an_18_carat_ring_by_hand() -> None:
    finger = Finger(System.UK, "O½", 55.625, Measured.GAUGE, 6.0)
    found = a_reckoning(finger=finger, alloy="gold-750-yellow", thickness_mm=1.6)
    # 15.58 g/cm3 x 9.6 mm2; lengths 60.652 true, 61.652 marked, kerf 0.31
    assert found.ring_g == pytest.approx(15.58 * 9.6 * 60.6515 / 1000, rel=1e-5)
    assert found.blank_g == pytest.approx(15.58 * 9.6 * 61.6515 / 1000, rel=1e-5)
    assert found.issue_g == pytest.approx(15.58 * 9.6 * 61.9615 / 1000, rel=1e-5)
    assert found.finished_g == pytest.approx(found.ring_g * 0.97)


def test_a_profile_filed_from_strip_takes_the_strip_and_weighs_the_profile() -> None:
    drawn = a_reckoning(profile=Profile.HALF_ROUND)
    filed = a_reckoning(profile=Profile.HALF_ROUND, stock=Stock.STRIP)
    assert filed.stock_section_mm2 == pytest.approx(8.4)
    assert drawn.stock_section_mm2 == drawn.section_mm2 == filed.section_mm2
    assert filed.blank_g > drawn.blank_g
    assert filed.ring_g == drawn.ring_g


def test_a_pattern_after_closing_makes_no_metal() -> None:
    found = a_reckoning(pattern=Pattern.STAMPED, pattern_when=PatternWhen.CLOSED)
    assert found.ring_g < found.blank_g
    assert found.ring_g == pytest.approx(found.density_g_cm3 * 8.4 * found.true_length_mm / 1000)


def test_finishing_is_shown_beside_the_figures_and_changes_none() -> None:
    plain, rough = a_reckoning(), a_reckoning(practice=Practice(finishing_allowance_mm=0.1))
    assert plain.finished_thickness_mm == pytest.approx(1.3)
    assert plain.opening_mm == pytest.approx(0.314, abs=0.0005)
    assert rough.finished_thickness_mm == pytest.approx(1.2)
    assert (rough.mark_mm, rough.circumference_mm, rough.ring_g) == (
        plain.mark_mm,
        plain.circumference_mm,
        plain.ring_g,
    )


def test_only_the_inside_of_a_patterned_ring_is_filed_up() -> None:
    assert a_reckoning(pattern=Pattern.HAMMERED).finished_thickness_mm == pytest.approx(1.35)


def test_the_ring_is_larger_than_the_finger_by_the_fit() -> None:
    found = a_reckoning(finger=Finger(System.ISO, "57", 57.0, Measured.GAUGE, 3.0))
    assert (found.fit_mm, found.circumference_mm) == (0.5, 57.5)
    assert found.fit_reason == "6 mm wide, from a 3 mm gauge"
    assert codes(found) == ["narrow-gauge"]


def test_a_size_between_two_is_reckoned_for_the_larger_and_says_so() -> None:
    finger = Finger(System.UK, "J", 48.75, Measured.GAUGE, 6.0, to_label="M", to_circumference_mm=52.5)
    found = a_reckoning(finger=finger)
    assert found.circumference_mm == 52.5
    assert [(c.code, c.field) for c in found.caveats] == [("size-range", "finger.size_to")]


def test_a_knuckle_larger_than_the_ring_is_pointed_out() -> None:
    knuckle = Finger(
        System.ISO, "57", 57.0, Measured.GAUGE, 6.0, knuckle_label="59", knuckle_circumference_mm=59.0
    )
    assert codes(a_reckoning(finger=knuckle)) == ["knuckle"]
    assert codes(a_reckoning(finger=knuckle, fit_mm=2.0)) == []


def test_an_upright_band_and_a_thick_one_are_pointed_out() -> None:
    assert codes(a_reckoning(width_mm=1.3)) == ["upright"]
    thick = a_reckoning(thickness_mm=3.0)
    assert codes(thick) == ["din-length"]
    assert thick.din_length_mm is not None
    assert thick.din_length_mm < thick.true_length_mm


def test_two_densities_that_disagree_are_both_said() -> None:
    (caveat,) = a_reckoning(alloy="gold-750-white-ni").caveats
    assert caveat.code == "density-differs"
    assert "14.64" in caveat.message
    assert "15.30" in caveat.message
    (caveat,) = a_reckoning(alloy="gold-750-white-pd").caveats
    assert caveat.code == "density-computed"
    assert "16.33" in caveat.message


def test_a_design_put_together_by_hand_is_refused_all_the_same() -> None:
    finger = Finger(System.ISO, "57", 57.0)
    unmakeable = Design(Profile.FLAT, 60.0, 0.1, "tin", Stock.STRIP)
    with pytest.raises(Refused) as caught:
        reckon(finger, unmakeable)
    assert [(refusal.field, refusal.why) for refusal in caught.value.refusals] == [
        ("width", Why.TOO_LARGE), ("thickness", Why.TOO_SMALL), ("alloy", Why.UNKNOWN_CHOICE),
    ]  # fmt: skip
