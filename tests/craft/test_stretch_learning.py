"""What the studio's own rings say of a pattern's stretch: held against scipy, and against rings made up."""

from dataclasses import replace
from random import Random
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.learned import Learned, ThicknessBand
from studio.craft.metals import Metal
from studio.craft.practice import COMMON_PRACTICE, Prior
from studio.craft.stretch import stretch
from studio.craft.stretch_learning import (
    A0,
    K0,
    StretchRecord,
    band_of,
    believed,
    judged,
    learned,
    learned_for,
    t_95,
)
from tests.craft.drawn import patterned

PRIOR = Prior(1.5, 1.0)
HAMMERED = COMMON_PRACTICE.priors[Pattern.HAMMERED, PatternWhen.FLAT]
DRAWS = 2_000


def a_record(percent: float, place: int = 1, **changes: object) -> StretchRecord:
    one = StretchRecord(
        f"2026-{place}/1",
        Pattern.HAMMERED,
        PatternWhen.FLAT,
        Metal.SILVER,
        1.5,
        60.0,
        60 * (1 + percent / 100),
    )
    return replace(one, **changes)  # type: ignore[arg-type]  # its own fields


def of_its_kind(records: list[StretchRecord]) -> Learned:
    return next(one for one in learned(records, COMMON_PRACTICE.priors) if one.metal is Metal.SILVER)


@pytest.mark.parametrize("freedom", [*range(1, 60), 200, 999])
def test_the_percentile_of_student_s_t_is_scipy_s(freedom: int) -> None:
    assert t_95(freedom) == pytest.approx(stats.t.ppf(0.95, freedom), rel=1e-9)


def test_four_degrees_of_freedom_give_the_figure_of_the_table() -> None:
    # Student's t, one-sided 95 %, 4 degrees of freedom: 2.132 in every printed table
    assert t_95(4) == pytest.approx(2.132, abs=5e-4)
    assert believed(PRIOR).half_width == pytest.approx(1.0)


@given(st.lists(st.floats(-2, 8), max_size=12))
def test_the_forecast_is_the_conjugate_one_of_scipy(seen: list[float]) -> None:
    # the predictive distribution of the normal-inverse-gamma: Student's t with 2a degrees of freedom
    after = believed(PRIOR).after(seen)
    n, mean = len(seen), fmean(seen) if seen else 0.0
    k, a = K0 + n, A0 + n / 2
    b = (1.0 / stats.t.ppf(0.95, 4)) ** 2 + sum((one - mean) ** 2 for one in seen) / 2
    b += K0 * n * (mean - 1.5) ** 2 / (2 * k)
    found = stats.t(df=2 * a, loc=(K0 * 1.5 + n * mean) / k, scale=(b * (k + 1) / (a * k)) ** 0.5)
    low, high = found.interval(0.9)
    assert (after.mean - after.half_width, after.mean + after.half_width) == pytest.approx((low, high))
    assert after.sd == pytest.approx(found.std())


@pytest.mark.parametrize("count", [0, 3, 10, 30])
def test_nine_next_rings_in_ten_fall_within_the_interval(count: int) -> None:
    # truths drawn from the prior: variance from the inverse gamma, mean from the normal given it
    chance, start, held = Random(count), believed(HAMMERED), 0  # noqa: S311  made-up rings, no secret
    for _ in range(DRAWS):
        variance = start.b / chance.gammavariate(start.a, 1)
        mean = chance.gauss(start.mean, (variance / start.k) ** 0.5)
        made = [chance.gauss(mean, variance**0.5) for _ in range(count + 1)]
        kept = [one.record.percent for one in judged(map(a_record, made[:-1])) if not one.aside]
        after = start.after(kept)
        held += abs(made[-1] - after.mean) <= after.half_width
    assert held / DRAWS == pytest.approx(0.9, abs=0.03)


def test_ten_rings_bring_a_wrong_belief_right_within_a_fifth_of_a_point() -> None:
    chance, truth = Random(1), HAMMERED.mean_percent + 1.5  # noqa: S311  as above
    means = [
        of_its_kind([a_record(chance.gauss(truth, 0.4)) for _ in range(10)]).mean_percent for _ in range(400)
    ]
    assert abs(fmean(means) - truth) < 0.2


def test_one_record_of_twelve_percent_among_eight_at_two_hardly_moves_the_mean() -> None:
    eight = [a_record(2.0, place) for place in range(8)]
    with_it = of_its_kind([*eight, a_record(12.0, 9)])
    assert abs(with_it.mean_percent - of_its_kind(eight).mean_percent) < 0.05
    assert with_it.records == 8
    aside = [one for one in judged([*eight, a_record(12.0, 9)]) if one.aside]
    assert [one.record.ring for one in aside] == ["2026-9/1"]
    assert aside[0].aside == "12.0 % lies too far from the other 8, about 2.0 %"


def test_of_four_records_none_is_set_aside_unless_somebody_says_so() -> None:
    four = [a_record(one) for one in (2.0, 2.0, 2.0, 12.0)]
    assert [one.aside for one in judged(four)] == [""] * 4
    said = [*four[:3], a_record(12.0, wrong="measured after it was filed")]
    assert judged(said)[3].aside == "measured after it was filed"
    assert of_its_kind(said).records == 3


def test_silver_starts_from_what_gold_says_until_it_has_rings_of_its_own() -> None:
    gold = [a_record(2.5, place, metal=Metal.GOLD) for place in range(6)]
    of_pattern = learned_for(
        patterned(Pattern.HAMMERED, alloy="silver-925").design,
        Metal.SILVER,
        learned(gold, COMMON_PRACTICE.priors),
    )
    assert of_pattern is not None
    assert (of_pattern.metal, of_pattern.records, of_pattern.others) == (None, 0, 6)
    assert 2.2 < of_pattern.mean_percent < 2.5
    both = of_its_kind([*gold, a_record(1.0, 7)])
    assert (both.records, both.others, both.rings) == (1, 6, ("2026-7/1",))
    assert 1.0 < both.mean_percent < of_pattern.mean_percent


def test_a_pattern_learns_nothing_from_another() -> None:
    stamped = [a_record(4.0, pattern=Pattern.STAMPED)]
    design = patterned(Pattern.HAMMERED, alloy="silver-925").design
    assert learned_for(design, Metal.SILVER, learned(stamped, COMMON_PRACTICE.priors)) is None
    assert stretch(
        design, replace(COMMON_PRACTICE, learned=learned(stamped, COMMON_PRACTICE.priors))
    ) == stretch(design, COMMON_PRACTICE)


def test_a_ring_is_reckoned_by_what_was_learned() -> None:
    found = learned([a_record(2.0, place) for place in range(8)], COMMON_PRACTICE.priors)
    design = patterned(Pattern.HAMMERED, alloy="silver-925").design
    told = stretch(design, replace(COMMON_PRACTICE, learned=found))
    assert told.records == 8
    assert told.mean_percent == pytest.approx((1.5 + 8 * 2.0) / 9)
    assert told.high_percent - told.mean_percent < stretch(design, COMMON_PRACTICE).high_percent - 1.5
    assert told.source.startswith("8 of our own (2026-0/1, ")


@pytest.mark.parametrize(
    ("thick_mm", "band"),
    [
        (1.19, ThicknessBand.THIN),
        (1.2, ThicknessBand.MIDDLE),
        (1.79, ThicknessBand.MIDDLE),
        (1.8, ThicknessBand.THICK),
    ],
)
def test_thin_middle_and_thick_strips_are_kinds_of_their_own(thick_mm: float, band: ThicknessBand) -> None:
    assert band_of(thick_mm) is band
