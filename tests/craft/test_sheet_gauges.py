"""Gauge numbers of sheet and wire, by three scales."""

import pytest

from studio.craft.errors import Refused, Why
from studio.craft.sheet_gauges import BareGauge, GaugeScale, gauge_mm, gauge_words, nearest_gauge
from studio.craft.units import read_length


def read(typed: str, gauge: BareGauge = BareGauge.BS) -> float:
    return read_length(typed, "thickness", low_mm=0.05, high_mm=20, gauge=gauge)


@pytest.mark.parametrize(
    ("number", "inches"),
    [(0, 0.324), (10, 0.128), (14, 0.08), (16, 0.064), (18, 0.048), (20, 0.036), (26, 0.018), (36, 0.0076)],
)
def test_swg_is_the_imperial_standard_wire_gauge(number: int, inches: float) -> None:
    # engineers' handbook tables of the imperial standard wire gauge; 14 and 26 from memory of them
    assert gauge_mm(number, GaugeScale.SWG) / 25.4 == pytest.approx(inches)


@pytest.mark.parametrize(
    ("number", "inches"),
    [(0, 0.34), (10, 0.134), (14, 0.083), (16, 0.065), (18, 0.049), (20, 0.035), (26, 0.018), (36, 0.004)],
)
def test_bwg_is_birmingham_s_gauge(number: int, inches: float) -> None:
    # engineers' handbook tables of the Birmingham or Stubs iron wire gauge; 14 and 26 from memory of them
    assert gauge_mm(number, GaugeScale.BWG) / 25.4 == pytest.approx(inches)


@pytest.mark.parametrize("scale", GaugeScale)
def test_a_thinner_sheet_has_a_larger_number_on_every_scale(scale: GaugeScale) -> None:
    thick = [gauge_mm(number, scale) for number in range(37)]
    assert thick == sorted(set(thick), reverse=True)


@pytest.mark.parametrize("scale", GaugeScale)
def test_the_nearest_gauge_to_a_gauge_is_itself(scale: GaugeScale) -> None:
    assert [nearest_gauge(gauge_mm(number, scale), scale)[0] for number in range(37)] == list(range(37))


def test_eighteen_gauge_is_three_thicknesses() -> None:
    # B&S: ASTM B258; SWG and BWG: engineers' handbook tables
    assert [round(read(typed), 2) for typed in ("18 B&S", "18 swg", "18 ga BWG")] == [1.02, 1.22, 1.24]


@pytest.mark.parametrize(
    ("bare", "mm"), [(BareGauge.BS, 1.0237), (BareGauge.SWG, 1.2192), (BareGauge.BWG, 1.2446)]
)
def test_a_gauge_without_its_scale_is_the_studio_s_own(bare: BareGauge, mm: float) -> None:
    assert read("18 ga", bare) == pytest.approx(mm, abs=5e-5)
    assert read("18 awg", bare) == pytest.approx(1.0237, abs=5e-5)


def test_a_studio_that_wants_to_be_asked_is_asked_which_gauge() -> None:
    with pytest.raises(Refused) as caught:
        read("18 ga", BareGauge.ASK)
    (refusal,) = caught.value.refusals
    assert refusal.why is Why.WHICH_GAUGE
    assert refusal.suggestion == "1.02 mm by B&S, 1.22 by SWG, 1.24 by BWG"
    assert read("18 swg", BareGauge.ASK) == pytest.approx(1.2192)


@pytest.mark.parametrize(("typed", "why"), [("37 swg", Why.NO_SUCH_GAUGE), ("1.5 swg", Why.NOT_A_NUMBER)])
def test_what_no_scale_has_is_refused(typed: str, why: Why) -> None:
    with pytest.raises(Refused) as caught:
        read(typed)
    assert [refusal.why for refusal in caught.value.refusals] == [why]


def test_the_nearest_gauge_is_said_with_its_thickness() -> None:
    assert gauge_words(1.4, GaugeScale.BS) == "B&S 15, 1.45 mm"
    assert gauge_words(1.4, GaugeScale.SWG) == "SWG 17, 1.42 mm"
    assert gauge_words(9.3, GaugeScale.BS) == "B&S 2/0, 9.27 mm"
