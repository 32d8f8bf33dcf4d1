import math
from typing import Any

import pytest

from studio.craft.designs import (
    Design,
    Finger,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
    design,
)
from studio.craft.errors import Refusal, Refused, Why

ROLLED_LATE = {"pattern": Pattern.ROLLED, "pattern_when": PatternWhen.CLOSED}
UNEVEN_WIRE = {"profile": Profile.ROUND, "width_mm": 2.0, "thickness_mm": 2.1}


def a_design(**changes: Any) -> Design:
    chosen: dict[str, Any] = {
        "profile": Profile.FLAT,
        "width_mm": 6.0,
        "thickness_mm": 1.4,
        "alloy": "silver-925",
    }
    return design(**(chosen | changes))


def refusals(**changes: Any) -> tuple[Refusal, ...]:
    with pytest.raises(Refused) as caught:
        a_design(**changes)
    return caught.value.refusals


def test_what_is_left_out_is_filled_in() -> None:
    made = a_design()
    assert (made.stock, made.pattern, made.pattern_when) == (Stock.STRIP, Pattern.PLAIN, None)
    assert (made.stretch_percent, made.fit_mm) == (None, None)


@pytest.mark.parametrize("profile", [profile for profile in Profile if profile is not Profile.FLAT])
def test_every_section_but_flat_comes_from_its_own_wire(profile: Profile) -> None:
    assert a_design(
        profile=profile, thickness_mm=6.0 if profile in {Profile.ROUND, Profile.SQUARE} else 1.4
    ).stock is (Stock.WIRE)


def test_a_half_round_may_be_filed_from_strip() -> None:
    assert a_design(profile=Profile.HALF_ROUND, stock=Stock.STRIP).stock is Stock.STRIP


def test_a_pattern_goes_on_flat_unless_said_otherwise() -> None:
    assert a_design(pattern=Pattern.HAMMERED).pattern_when is PatternWhen.FLAT
    assert (
        a_design(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.CLOSED).pattern_when is PatternWhen.CLOSED
    )


def test_a_plain_ring_has_neither_moment_nor_stretch() -> None:
    made = a_design(pattern_when=PatternWhen.CLOSED, stretch_percent=2.0)
    assert (made.pattern_when, made.stretch_percent) == (None, None)


@pytest.mark.parametrize("profile", [Profile.ROUND, Profile.SQUARE])
@pytest.mark.parametrize(("width", "thickness"), [(2.0, None), (None, 2.0), (2.0, 2.0)])
def test_wire_is_as_wide_as_it_is_thick(
    profile: Profile, width: float | None, thickness: float | None
) -> None:
    made = a_design(profile=profile, width_mm=width, thickness_mm=thickness)
    assert (made.width_mm, made.thickness_mm) == (2, 2)


@pytest.mark.parametrize(
    ("changes", "field", "why"),
    [
        ({"width_mm": 0.79}, "width", Why.TOO_SMALL), ({"width_mm": 40.01}, "width", Why.TOO_LARGE),
        ({"width_mm": math.inf}, "width", Why.TOO_LARGE), ({"width_mm": math.nan}, "width", Why.TOO_SMALL),
        ({"width_mm": None}, "width", Why.EMPTY), ({"thickness_mm": None}, "thickness", Why.EMPTY),
        ({"thickness_mm": 0.29}, "thickness", Why.TOO_SMALL),
        ({"thickness_mm": 6.01}, "thickness", Why.TOO_LARGE),
        ({"profile": Profile.ROUND, "width_mm": 0.49, "thickness_mm": None}, "width", Why.TOO_SMALL),
        ({"profile": Profile.SQUARE, "width_mm": None, "thickness_mm": 8.01}, "thickness", Why.TOO_LARGE),
        (UNEVEN_WIRE, "thickness", Why.WIRE_SIDES_DIFFER),
        ({"alloy": "silver-9250"}, "alloy", Why.UNKNOWN_CHOICE),
        ({"alloy": ""}, "alloy", Why.UNKNOWN_CHOICE),
        (ROLLED_LATE, "pattern_when", Why.ROLLED_AFTER_CLOSING),
        ({"pattern": Pattern.HAMMERED, "stretch_percent": 10.1}, "stretch_percent", Why.TOO_LARGE),
        ({"pattern": Pattern.HAMMERED, "stretch_percent": -0.1}, "stretch_percent", Why.TOO_SMALL),
        ({"fit_mm": 5.01}, "fit_mm", Why.TOO_LARGE), ({"fit_mm": -5.01}, "fit_mm", Why.TOO_SMALL),
    ],
)  # fmt: skip
def test_what_cannot_be_made_is_refused_with_the_reason(
    changes: dict[str, Any], field: str, why: Why
) -> None:
    assert [(refusal.field, refusal.why) for refusal in refusals(**changes)] == [(field, why)]


@pytest.mark.parametrize(("width", "thickness"), [(0.8, 0.3), (40.0, 6.0)])
def test_the_limits_themselves_are_made(width: float, thickness: float) -> None:
    assert a_design(width_mm=width, thickness_mm=thickness).width_mm == width
    assert a_design(profile=Profile.ROUND, width_mm=0.5, thickness_mm=None).width_mm == 0.5
    assert a_design(profile=Profile.ROUND, width_mm=8.0, thickness_mm=None).width_mm == 8


def test_sixty_wide_asks_for_six() -> None:
    (refusal,) = refusals(width_mm=60.0)
    assert (refusal.typed, refusal.low, refusal.high, refusal.suggestion) == ("60", 0.8, 40, "6")


def test_all_that_is_wrong_is_said_at_once() -> None:
    found = refusals(width_mm=60.0, thickness_mm=None, alloy="tin", fit_mm=9.0)
    assert {refusal.field for refusal in found} == {"width", "thickness", "alloy", "fit_mm"}


def test_wire_without_any_size_lacks_both() -> None:
    found = refusals(profile=Profile.ROUND, width_mm=None, thickness_mm=None)
    assert [(refusal.field, refusal.why) for refusal in found] == [
        ("width", Why.EMPTY),
        ("thickness", Why.EMPTY),
    ]


def test_a_size_not_known_yet_is_reckoned_at_its_larger_end() -> None:
    assert (
        Finger(System.UK, "J", 48.75, to_label="M", to_circumference_mm=52.5).reckoned_circumference_mm
        == 52.5
    )
    assert Finger(System.UK, "J", 48.75).reckoned_circumference_mm == 48.75
