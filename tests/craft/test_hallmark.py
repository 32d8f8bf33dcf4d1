"""What is foreseen of a ring's hallmark."""

import math
from dataclasses import replace

import pytest

from studio.craft.designs import Finger, Measured, Profile, System, design
from studio.craft.hallmark import HallmarkRule, Verdict, foresight, is_assayed
from studio.craft.hallmark_crossing import crossings
from studio.craft.practice import COMMON_PRACTICE, AssayWhen, HallmarkTerms
from studio.craft.reckonings import Reckoning, reckon

FINGER = Finger(System.ISO, "57", 57.0, Measured.GAUGE, 6.0)


def ring(
    alloy: str = "silver-925",
    width_mm: float = 6.0,
    thickness_mm: float = 1.4,
    profile: Profile = Profile.FLAT,
) -> Reckoning:
    return reckon(FINGER, design(profile, width_mm, thickness_mm, alloy))


def test_the_worked_ring_is_exempt_in_the_uk() -> None:
    found = foresight(ring(), HallmarkRule.UK)
    assert found is not None
    assert (found.limit_g, found.verdict) == (7.78, Verdict.EXEMPT)
    sd = 5.1827 * math.sqrt((0.02 / 1.4) ** 2 + (0.05 / 6) ** 2 + 0.005**2 + (0.01 / 0.97) ** 2)
    assert found.low_g == pytest.approx(5.1827 - 1.645 * sd, abs=0.001)
    assert found.high_g == pytest.approx(5.1827 + 1.645 * sd, abs=0.001)


@pytest.mark.parametrize(
    ("thickness_mm", "verdict"), [(1.9, Verdict.EXEMPT), (2.04, Verdict.WEIGH), (2.2, Verdict.REQUIRED)]
)
def test_between_surely_exempt_and_surely_marked_the_ring_is_weighed(
    thickness_mm: float, verdict: Verdict
) -> None:
    found = foresight(ring(thickness_mm=thickness_mm), HallmarkRule.UK)
    assert found is not None
    assert found.verdict is verdict


def test_without_doubt_the_limit_itself_is_marked() -> None:
    sure = HallmarkTerms(thickness_mm=0, width_mm=0, density_percent=0, loss_part=math.inf)
    practice = replace(COMMON_PRACTICE, hallmark=sure)
    plain = replace(ring(), practice=practice)
    at, below = replace(plain, finished_g=7.78), replace(plain, finished_g=7.7799)
    assert [
        found and found.verdict for found in (foresight(one, HallmarkRule.UK) for one in (at, below))
    ] == [
        Verdict.REQUIRED,
        Verdict.EXEMPT,
    ]


def test_the_convention_exempts_no_weight() -> None:
    found = foresight(ring(width_mm=1, thickness_mm=0.3), HallmarkRule.CONVENTION)
    assert found is not None
    assert (found.limit_g, found.verdict) == (0.0, Verdict.REQUIRED)
    assert crossings(ring(), found) == ()


@pytest.mark.parametrize("rule", HallmarkRule)
def test_copper_is_never_foreseen(rule: HallmarkRule) -> None:
    assert foresight(ring("copper"), rule) is None


def test_without_a_rule_nothing_is_foreseen() -> None:
    assert foresight(ring(), HallmarkRule.NONE) is None


def test_an_alloy_of_which_only_a_spread_is_printed_is_far_less_sure() -> None:
    listed = foresight(ring("gold-750-yellow"), HallmarkRule.UK)
    spread = foresight(ring("gold-750-white-pd"), HallmarkRule.UK)
    assert listed is not None
    assert spread is not None
    share = [(one.high_g - one.finished_g) / one.finished_g for one in (listed, spread)]
    assert share[1] > 2 * share[0]


@pytest.mark.parametrize(
    "found",
    [ring(), ring(thickness_mm=2.4), ring(width_mm=8, thickness_mm=1.8), ring(profile=Profile.COURT)],
    ids=["light", "heavy", "wide", "court"],
)
def test_a_ring_as_thick_or_wide_as_is_said_weighs_the_limit(found: Reckoning) -> None:
    foreseen = foresight(found, HallmarkRule.UK)
    assert foreseen is not None
    solved = crossings(found, foreseen)
    assert [crossing.side for crossing in solved] == ["thick", "wide"]
    for crossing in solved:
        assert crossing.at_mm is not None
        sides = [crossing.at_mm - 0.001, crossing.at_mm + 0.001]
        near = [
            reckon(
                FINGER,
                replace(found.design, thickness_mm=side)
                if crossing.side == "thick"
                else replace(found.design, width_mm=side),
            ).finished_g
            for side in sides
        ]
        assert near[0] < 7.78 < near[1]


def test_where_nothing_that_can_be_made_crosses_it_that_is_said() -> None:
    small = ring(width_mm=1.0, thickness_mm=0.4)
    foreseen = foresight(small, HallmarkRule.UK)
    assert foreseen is not None
    thick, wide = crossings(small, foreseen)
    assert thick.at_mm is None
    assert wide.at_mm == pytest.approx(32.5, abs=0.1)


def test_a_wire_crosses_by_its_diameter() -> None:
    wire = reckon(FINGER, design(Profile.ROUND, 2.0, None, "silver-925"))
    foreseen = foresight(wire, HallmarkRule.UK)
    assert foreseen is not None
    (across,) = crossings(wire, foreseen)
    assert across.at_mm == pytest.approx(3.783, abs=0.002)


def test_the_assay_is_charged_where_it_is_sure_or_where_the_studio_asks_for_it() -> None:
    verdicts = {
        thickness: foresight(ring(thickness_mm=thickness), HallmarkRule.UK) for thickness in (1.4, 2.04, 2.4)
    }
    asked = {
        when: [is_assayed(verdicts[thickness], when) for thickness in (1.4, 2.04, 2.4)] for when in AssayWhen
    }
    assert asked == {AssayWhen.REQUIRED: [False, False, True], AssayWhen.UNSURE: [False, True, True]}
    assert not is_assayed(None, AssayWhen.UNSURE)
