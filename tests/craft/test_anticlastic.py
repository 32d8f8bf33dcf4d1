"""Bands sunk over a groove: what the arc gives, what is refused, and what becomes of the metal."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.anticlastic import (
    QUARTER_US_MM,
    AnticlasticBand,
    Groove,
    groove_of_radius,
    groove_of_rise,
    largest_rise_mm,
    smallest_radius_mm,
)
from studio.craft.blanks import true_length
from studio.craft.designs import Profile
from studio.craft.errors import Refused, Why

WIDTHS, THICKNESSES = st.floats(0.8, 40), st.floats(0.3, 6)
ANGLES = st.floats(1e-6, math.pi / 2 - 1e-9)
WAISTS = st.floats(30 / math.pi, 90 / math.pi)


@st.composite
def bands(draw: st.DrawFn) -> AnticlasticBand:
    width, thickness = draw(WIDTHS), draw(THICKNESSES)
    return AnticlasticBand(Groove(width, thickness, width / (2 * draw(ANGLES))), draw(WAISTS))


def test_eight_by_point_eight_over_a_groove_of_twelve_point_four_as_worked() -> None:
    groove = groove_of_radius(8, 0.8, 12.4)
    assert groove.middle_radius_mm == pytest.approx(12)
    assert groove.half_angle == pytest.approx(1 / 3)
    assert groove.rise_mm == pytest.approx(0.661, abs=0.0005)
    assert groove.finished_width_mm == pytest.approx(7.853, abs=0.0005)
    assert groove.shortfall_mm == pytest.approx(0.221, abs=0.0005)
    assert groove.shift_mm == pytest.approx(1.39, abs=0.005)


def test_the_waist_carries_the_finger_and_the_edges_stand_above_it() -> None:
    band = AnticlasticBand(groove_of_radius(8, 0.8, 12.4), 57 / math.pi)
    assert band.edge_mm == pytest.approx(18.1437 + 2 * 0.66052, abs=0.0005)
    assert band.edge_strain == pytest.approx(2 * 0.661 / (18.144 + 0.8), abs=0.0001)
    assert band.blank_length_mm == pytest.approx(true_length(Profile.FLAT, 8, 0.8, 57))
    assert band.mean_thickness_mm == pytest.approx(0.782, abs=0.0005)
    assert band.shift_in_steps(1.25) == pytest.approx(1.11, abs=0.005)


def test_the_groove_of_a_rise_is_the_one_that_makes_it() -> None:
    assert groove_of_rise(8, 0.8, 0.66052).radius_mm == pytest.approx(12.4, abs=0.005)


@given(WIDTHS, THICKNESSES, st.floats(1e-4, 1))
def test_a_rise_comes_back_from_the_groove_it_asks_for(width: float, thickness: float, share: float) -> None:
    rise = share * largest_rise_mm(width)
    groove = groove_of_rise(width, thickness, rise)
    assert groove.rise_mm == pytest.approx(rise, rel=1e-12)
    assert groove.half_angle <= math.pi / 2
    assert groove_of_radius(width, thickness, groove.radius_mm * (1 + 1e-12)).rise_mm == pytest.approx(rise)


@given(WIDTHS, THICKNESSES)
def test_the_tightest_groove_and_the_highest_rise_are_half_a_circle(width: float, thickness: float) -> None:
    by_rise = groove_of_rise(width, thickness, largest_rise_mm(width))
    assert by_rise.half_angle == pytest.approx(math.pi / 2)
    assert by_rise.radius_mm == pytest.approx(smallest_radius_mm(width, thickness))


@pytest.mark.parametrize("radius", [0.4, 0.1, 0, -3, math.nan, math.inf])
def test_a_groove_of_half_the_metal_or_less_is_refused(radius: float) -> None:
    with pytest.raises(Refused) as refused:
        groove_of_radius(8, 0.8, radius)
    (found,) = refused.value.refusals
    assert (found.field, found.why, found.low) == ("form.radius", Why.GROOVE_IN_THE_METAL, 0.4)


def test_a_groove_that_turns_the_strip_beyond_half_a_circle_is_refused_with_the_least_there_is() -> None:
    with pytest.raises(Refused) as refused:
        groove_of_radius(8, 0.8, 2.9)
    (found,) = refused.value.refusals
    assert (found.field, found.why) == ("form.radius", Why.GROOVE_TOO_TIGHT)
    assert found.low == pytest.approx(8 / math.pi + 0.4)
    assert groove_of_radius(8, 0.8, 2.95).rise_mm < largest_rise_mm(8)


def test_a_rise_beyond_half_a_circle_is_refused_with_the_most_there_is() -> None:
    with pytest.raises(Refused) as refused:
        groove_of_rise(8, 0.8, 2.6)
    (found,) = refused.value.refusals
    assert (found.field, found.why) == ("form.rise", Why.RISE_TOO_HIGH)
    assert found.high == pytest.approx(8 / math.pi)


@pytest.mark.parametrize("rise", [0, -1, math.nan])
def test_no_rise_is_no_anticlastic_band(rise: float) -> None:
    with pytest.raises(Refused) as refused:
        groove_of_rise(8, 0.8, rise)
    assert [found.why for found in refused.value.refusals] == [Why.NOT_ABOVE_ZERO]


@given(WIDTHS, THICKNESSES, WAISTS)
def test_over_an_endless_groove_it_is_the_plain_band(width: float, thickness: float, waist: float) -> None:
    groove = groove_of_radius(width, thickness, 1e9)
    band = AnticlasticBand(groove, waist)
    flat = true_length(Profile.FLAT, width, thickness, math.pi * waist)
    assert groove.finished_width_mm == pytest.approx(width)
    assert (groove.rise_mm, groove.shift_mm, band.edge_strain) == pytest.approx((0, 0, 0), abs=1e-5)
    assert band.edge_mm == pytest.approx(waist)
    assert band.blank_length_mm == pytest.approx(flat)
    assert band.mean_thickness_mm == pytest.approx(thickness)


@given(bands())
def test_metal_is_conserved(band: AnticlasticBand) -> None:
    groove = band.groove
    stock = groove.strip_mm * groove.thickness_mm * band.blank_length_mm
    assert band.area_mm2 * band.mean_thickness_mm == pytest.approx(stock, rel=1e-12)
    assert band.mean_thickness_mm <= groove.thickness_mm


@given(bands(), st.floats(0.5, 0.999))
def test_a_tighter_groove_raises_and_narrows_the_band(band: AnticlasticBand, share: float) -> None:
    wide = Groove(band.groove.strip_mm, band.groove.thickness_mm, band.groove.middle_radius_mm / share)
    assert wide.rise_mm < band.groove.rise_mm
    assert wide.shift_mm < band.groove.shift_mm
    assert wide.finished_width_mm >= band.groove.finished_width_mm


def test_the_shortfall_has_no_step_where_its_series_begins() -> None:
    width = 8.0
    by_series, closed = (Groove(width, 0.8, width / (2 * a)) for a in (0.05 * (1 - 1e-12), 0.05))
    assert by_series.shortfall_mm == pytest.approx(closed.shortfall_mm, rel=2e-12)


def test_the_studios_own_correction_lengthens_the_blank() -> None:
    groove = groove_of_radius(8, 0.8, 12.4)
    plain, corrected = AnticlasticBand(groove, 57 / math.pi), AnticlasticBand(groove, 57 / math.pi, 0.4)
    assert corrected.blank_length_mm - plain.blank_length_mm == pytest.approx(0.4)
    assert corrected.edge_mm == plain.edge_mm


def test_a_range_above_a_quarter_us_size_wants_a_copper_trial() -> None:
    assert pytest.approx(0.638, abs=0.0005) == QUARTER_US_MM
    assert AnticlasticBand(groove_of_radius(8, 0.8, 12.4), 18).wants_copper_trial
    assert not AnticlasticBand(groove_of_radius(8, 0.8, 40), 18).wants_copper_trial
