import math

import pytest

from studio.craft.designs import Profile
from studio.craft.profiles import PROFILE_NAMES, neutral_mm, outline, section_mm2


def test_half_round_four_by_one_point_seven_as_worked() -> None:
    assert section_mm2(Profile.HALF_ROUND, 4, 1.7) == pytest.approx(5.341, abs=0.0005)
    assert neutral_mm(Profile.HALF_ROUND, 4, 1.7) == pytest.approx(0.7215, abs=0.00005)


@pytest.mark.parametrize(
    ("profile", "area", "neutral"),
    [
        (Profile.FLAT, 12, 1), (Profile.HALF_ROUND, 3 * math.pi, 8 / (3 * math.pi)),
        (Profile.LOW_DOME, 8, 0.8),
        (Profile.COURT, 3 * math.pi, 1), (Profile.FLAT_COURT, 3 * math.pi, 2 - 8 / (3 * math.pi)),
        (Profile.ROUND, 3 * math.pi, 1), (Profile.SQUARE, 12, 1), (Profile.KNIFE_EDGE, 6, 2 / 3),
    ],
)  # fmt: skip
def test_every_section_has_its_area_and_neutral_line(profile: Profile, area: float, neutral: float) -> None:
    assert section_mm2(profile, 6, 2) == pytest.approx(area)
    assert neutral_mm(profile, 6, 2) == pytest.approx(neutral)


@pytest.mark.parametrize("profile", Profile)
def test_an_outline_lies_within_width_and_thickness_and_touches_both(profile: Profile) -> None:
    drawn = outline(profile, 6, 2, 40)
    xs, ys = [x for x, _ in drawn], [y for _, y in drawn]
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((-3, 3, 0, 2))
    assert drawn[0] != drawn[-1]


@pytest.mark.parametrize("profile", Profile)
def test_an_outline_runs_anticlockwise_around_its_area(profile: Profile) -> None:
    drawn = outline(profile, 6, 2, 2000)
    around = zip(drawn, (*drawn[1:], drawn[0]), strict=True)
    assert sum(x * v - u * y for (x, y), (u, v) in around) / 2 == pytest.approx(
        section_mm2(profile, 6, 2), rel=1e-5
    )


def test_half_round_is_half_an_ellipse_flat_inside() -> None:
    drawn = outline(Profile.HALF_ROUND, 4, 1.7, 64)
    assert all((x / 2) ** 2 + (y / 1.7) ** 2 == pytest.approx(1) for x, y in drawn)
    assert [point for point in drawn if point[1] == 0] == [(2, 0), (-2, 0)]


def test_every_profile_has_a_name() -> None:
    assert set(PROFILE_NAMES) == set(Profile)
