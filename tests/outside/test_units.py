"""Weights and lengths of the trade against a registry of units and the agreement that fixed them."""

import pint
import pytest

from studio.craft.units import GRAIN_G, METRIC_CARAT_G, MM_PER_CM, MM_PER_INCH, PENNYWEIGHT_G, TROY_OUNCE_G


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry(cache_folder=None)


@pytest.mark.parametrize(
    ("unit", "into", "ours"),
    [
        ("inch", "mm", MM_PER_INCH),
        ("cm", "mm", MM_PER_CM),
        ("troy_ounce", "g", TROY_OUNCE_G),
        ("pennyweight", "g", PENNYWEIGHT_G),
        ("grain", "g", GRAIN_G),
        ("carat", "g", METRIC_CARAT_G),
    ],
)
def test_every_factor_is_that_of_pints_own_registry(
    unit: str, into: str, ours: float, registry: pint.UnitRegistry[float]
) -> None:
    assert registry.Quantity(1, unit).to(into).magnitude == pytest.approx(ours, rel=1e-15)


def test_troy_weights_are_whole_multiples_of_each_other(registry: pint.UnitRegistry[float]) -> None:
    assert registry.Quantity(20, "pennyweight").to("troy_ounce").magnitude == pytest.approx(1)
    assert registry.Quantity(PENNYWEIGHT_G, "gram").to("grain").magnitude == pytest.approx(24)


def test_they_agree_with_the_yard_and_pound_agreement() -> None:
    # international yard and pound agreement of 1959, from memory: grain 64.79891 mg, inch 25.4 mm
    ours = (GRAIN_G, TROY_OUNCE_G, PENNYWEIGHT_G, MM_PER_INCH)
    assert ours == pytest.approx((0.06479891, 31.1034768, 1.55517384, 25.4), rel=1e-12)


def test_a_metric_carat_is_a_fifth_of_a_gram() -> None:
    # General Conference on Weights and Measures of 1907, from memory
    assert pytest.approx(0.2, rel=1e-15) == METRIC_CARAT_G
