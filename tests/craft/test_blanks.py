import math

import pytest

from studio.craft.blanks import before_stretch, din_factor, din_length, true_length
from studio.craft.designs import Profile
from studio.craft.profiles import section_mm2
from studio.craft.weights import after_loss_g, mass_g


def test_flat_six_by_one_point_four_on_fifty_seven_as_worked() -> None:
    assert true_length(Profile.FLAT, 6, 1.4, 57) == pytest.approx(61.40, abs=0.005)


def test_half_round_four_by_one_point_seven_on_fifty_seven_as_worked() -> None:
    length = true_length(Profile.HALF_ROUND, 4, 1.7, 57)
    assert length == pytest.approx(57 + 8 * 1.7 / 3)
    assert length == pytest.approx(61.53, abs=0.005)
    assert section_mm2(Profile.HALF_ROUND, 4, 1.7) * length == pytest.approx(328.6, abs=0.05)
    assert mass_g(10.36, section_mm2(Profile.HALF_ROUND, 4, 1.7), length) == pytest.approx(3.405, abs=0.0005)


@pytest.mark.parametrize("profile", Profile)
def test_true_length_is_pi_times_the_diameter_of_the_neutral_line(profile: Profile) -> None:
    c = {Profile.HALF_ROUND: 8 / (3 * math.pi), Profile.LOW_DOME: 0.8, Profile.KNIFE_EDGE: 2 / 3}
    height = c.get(profile, 2 - 8 / (3 * math.pi) if profile is Profile.FLAT_COURT else 1)
    assert true_length(profile, 5, 2, 57) == pytest.approx(math.pi * (57 / math.pi + 2 * height))


@pytest.mark.parametrize(
    ("diameter", "thickness", "k_half", "length"),
    [
        (14, 1.5, 0.492, 48.62), (14, 2.0, 0.461, 49.78), (14, 3.0, 0.417, 51.84), (16, 2.5, 0.451, 57.35),
        (17.3, 2.0, 0.484, 60.43), (19, 2.0, 0.494, 65.90), (21, 3.0, 0.461, 74.66),
    ],
)  # fmt: skip
def test_thick_stock_has_a_shorter_length_by_din_6935(
    diameter: float, thickness: float, k_half: float, length: float
) -> None:
    # worked out by hand from the formula of DIN 6935, from memory
    assert din_factor(thickness, diameter * math.pi) / 2 == pytest.approx(k_half, abs=0.0005)
    assert din_length(Profile.FLAT, thickness, diameter * math.pi) == pytest.approx(length, abs=0.005)
    assert din_length(Profile.SQUARE, thickness, diameter * math.pi) == pytest.approx(length, abs=0.005)


def test_din_6935_is_silent_on_thin_stock_other_sections_and_the_tightest_bends() -> None:
    assert din_factor(1.4, 57) == 1
    assert din_length(Profile.FLAT, 1.4, 57) is None
    assert din_length(Profile.FLAT, 1.5, 1.5 * 5 * 2 * math.pi) is None
    assert din_length(Profile.HALF_ROUND, 3, 57) is None
    assert din_length(Profile.SQUARE, 8, 30) is None


def test_what_a_pattern_stretches_was_shorter_before() -> None:
    assert before_stretch(61.398, 1.1) == pytest.approx(60.73, abs=0.005)
    assert before_stretch(61.398, 0) == 61.398


def test_finishing_takes_its_share() -> None:
    assert after_loss_g(8, 3) == pytest.approx(7.76)
