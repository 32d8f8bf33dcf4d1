"""What holds for the figures of every ring that can be made."""

import math
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace

from hypothesis import assume, given
from hypothesis import strategies as st

from studio.craft.alloys import ALLOYS
from studio.craft.designs import (
    WIRE_PROFILES,
    Design,
    Finger,
    Pattern,
    PatternWhen,
    Stock,
    design,
    thickness_limits,
    width_limits,
)
from studio.craft.elements import ELEMENT_DENSITIES, mixture_density
from studio.craft.errors import Refused
from studio.craft.profiles import outline
from studio.craft.reckonings import finished_g, reckon
from tests.strategies import designs, fingers, whole_fingers


def numbers(value: object) -> list[float]:
    """Every number in a figure, however deep."""
    if is_dataclass(value):
        return [number for part in fields(value) for number in numbers(getattr(value, part.name))]
    if isinstance(value, Mapping):
        return [number for part in value.values() for number in numbers(part)]
    if isinstance(value, list | tuple):
        return [number for part in value for number in numbers(part)]
    return [float(value)] if isinstance(value, int | float) and not isinstance(value, bool) else []


@given(whole_fingers(), designs())
def test_no_figure_is_without_end_or_below_nothing(finger: Finger, chosen: Design) -> None:
    found = reckon(finger, chosen)
    assert all(math.isfinite(number) for number in numbers(found))
    positive = (
        found.circumference_mm, found.diameter_mm, found.finished_width_mm, found.finished_thickness_mm,
        found.section_mm2, found.neutral_mm, found.true_length_mm, found.mark_mm, found.density_g_cm3,
        found.blank_g, found.issue_g, found.ring_g, found.finished_g,
    )  # fmt: skip
    assert min(positive) > 0
    assert min(found.stretch.mean_percent, found.stretch.low_percent, found.stretch.used_percent) >= 0
    assert found.din_length_mm is None or found.din_length_mm < found.neutral_length_mm


@given(whole_fingers(), designs())
def test_the_finished_weight_alone_is_that_of_the_whole_reckoning(finger: Finger, chosen: Design) -> None:
    assert finished_g(finger, chosen) == reckon(finger, chosen).finished_g


@given(fingers(), designs())
def test_metal_is_only_ever_taken_off(finger: Finger, chosen: Design) -> None:
    found = reckon(finger, chosen)
    assert found.issue_g > found.blank_g
    assert found.ring_g > found.finished_g
    # a stretch typed for the flat strip thins the section, which the weight of the ring leaves out
    if chosen.pattern_when is not PatternWhen.FLAT or chosen.stretch_percent is None:
        assert found.blank_g > found.ring_g


@given(fingers(), designs(), st.floats(0.01, 5))
def test_a_larger_finger_takes_a_longer_blank_and_a_heavier_ring(
    finger: Finger, chosen: Design, larger_mm: float
) -> None:
    small = reckon(finger, chosen)
    large = reckon(replace(finger, circumference_mm=finger.circumference_mm + larger_mm), chosen)
    assert large.mark_mm > small.mark_mm
    assert large.true_length_mm > small.true_length_mm
    assert large.ring_g > small.ring_g
    assert large.issue_g > small.issue_g


@given(fingers(), designs(), st.floats(0.01, 1))
def test_thicker_stock_takes_a_longer_blank_and_a_heavier_ring(
    finger: Finger, chosen: Design, thicker_mm: float
) -> None:
    assume(chosen.profile not in WIRE_PROFILES)
    assume(chosen.thickness_mm + thicker_mm <= thickness_limits(chosen.profile).high)
    thicker = replace(chosen, thickness_mm=chosen.thickness_mm + thicker_mm)
    # The groove of a thin strip may be too tight for a thicker one.
    assume(chosen.form.radius_mm is None or not is_refused(finger, thicker))
    thin, thick = reckon(finger, chosen), reckon(finger, thicker)
    assert thick.true_length_mm > thin.true_length_mm
    assert thick.ring_g > thin.ring_g


def is_refused(finger: Finger, design: Design) -> bool:
    try:
        reckon(finger, design)
    except Refused:
        return True
    return False


@given(fingers(), designs())
def test_the_blank_is_never_shorter_than_the_finger_is_round(finger: Finger, chosen: Design) -> None:
    found = reckon(finger, replace(chosen, pattern=Pattern.PLAIN, pattern_when=None))
    assert found.mark_mm > found.true_length_mm > found.circumference_mm
    assert found.circumference_mm == finger.circumference_mm + found.fit_mm


@given(fingers(), designs())
def test_a_pattern_on_the_flat_strip_never_makes_the_mark_longer(finger: Finger, chosen: Design) -> None:
    plain = reckon(finger, replace(chosen, pattern=Pattern.PLAIN, pattern_when=None))
    assert reckon(finger, chosen).mark_mm <= plain.mark_mm


@given(fingers(), designs())
def test_strip_is_never_lighter_than_the_wire_of_the_same_size(finger: Finger, chosen: Design) -> None:
    strip, wire = (reckon(finger, replace(chosen, stock=stock)) for stock in (Stock.STRIP, Stock.WIRE))
    assert strip.issue_g >= wire.issue_g
    assert strip.ring_g == wire.ring_g


@given(st.dictionaries(st.sampled_from(sorted(ELEMENT_DENSITIES)), st.integers(1, 1000), min_size=1))
def test_the_density_of_a_mixture_lies_between_its_parts(composition: dict[str, int]) -> None:
    densities = [ELEMENT_DENSITIES[element] for element in composition]
    assert min(densities) - 1e-9 <= mixture_density(composition) <= max(densities) + 1e-9


@given(designs(), st.integers(1, 60))
def test_every_outline_stays_within_its_ring(chosen: Design, points: int) -> None:
    w, t = chosen.width_mm, chosen.thickness_mm
    for x, y in outline(chosen.profile, w, t, points):
        assert -w / 2 - 1e-9 <= x <= w / 2 + 1e-9
        assert -1e-9 <= y <= t + 1e-9


@given(designs(), st.floats(), st.floats())
def test_any_size_is_made_within_the_limits_or_refused(
    chosen: Design, width: float, thickness: float
) -> None:
    fields = set()
    made = chosen
    try:
        made = design(chosen.profile, width, thickness, chosen.alloy)
    except Refused as refused:
        fields = {refusal.field for refusal in refused.refusals}
    assert fields <= {"width", "thickness"}
    widths, thicknesses = width_limits(chosen.profile), thickness_limits(chosen.profile)
    assert widths.low <= made.width_mm <= widths.high
    assert thicknesses.low <= made.thickness_mm <= thicknesses.high


@given(st.sampled_from(sorted(ALLOYS)))
def test_every_alloy_lies_between_its_elements(key: str) -> None:
    alloy = ALLOYS[key]
    densities = [ELEMENT_DENSITIES[element] for element in alloy.composition]
    assert min(densities) <= alloy.computed_density <= max(densities)
