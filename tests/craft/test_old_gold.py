"""What old gold is worth over the counter, and how long its seller is kept."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.old_gold import Worth, keep_until, worth_of
from studio.craft.rates import GRAMS, MetalPrice, WeightUnit
from studio.craft.refining import TROY_OUNCE_MG

A_GRAM = MetalPrice("gold", Decimal("65.20"), WeightUnit.G, date(2026, 12, 1), "typed")


def test_the_worked_example_of_the_rule() -> None:
    # 8.420 g x 375 / 1000 = 3.1575 g, down to 3.157; x 65.20 = 205.8364; x 0.85 = 174.96094
    found = worth_of(8_420, 375, A_GRAM, "GBP", percent=Decimal(85))
    assert found == Worth(3_157, 20_584, 17_496)


def test_a_price_by_the_troy_ounce_is_the_same_price() -> None:
    # Outside: a troy ounce is 480 grains of 64.79891 mg exactly, international yard and pound agreement 1959.
    assert Decimal("31103.4768") == TROY_OUNCE_MG
    an_ounce = MetalPrice("gold", Decimal("65.20") * GRAMS[WeightUnit.TROY_OUNCE], WeightUnit.TROY_OUNCE,
                          A_GRAM.on, "typed")  # fmt: skip
    assert worth_of(8_420, 375, an_ounce, "GBP") == worth_of(8_420, 375, A_GRAM, "GBP")


@given(st.integers(1, 500_000), st.integers(1, 1000), st.integers(1, 100))
def test_nobody_is_offered_more_than_the_whole_and_finer_is_never_worth_less(
    mass_mg: int, fineness: int, percent: int
) -> None:
    found = worth_of(mass_mg, fineness, A_GRAM, "GBP", percent=Decimal(percent))
    assert 0 <= found.offer_minor <= found.whole_minor
    assert found.fine_mg * 1000 <= mass_mg * fineness
    finer = worth_of(mass_mg, min(1000, fineness + 1), A_GRAM, "GBP", percent=Decimal(percent))
    assert finer.offer_minor >= found.offer_minor


@pytest.mark.parametrize(
    ("bought", "years", "until"),
    [
        (date(2026, 12, 1), 3, date(2029, 12, 1)),
        (date(2028, 2, 29), 3, date(2031, 3, 1)),
        (date(2028, 2, 29), 4, date(2032, 2, 29)),
    ],
)
def test_a_seller_is_kept_whole_years(bought: date, years: int, until: date) -> None:
    assert keep_until(bought, years) == until


@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(1, 30))
def test_no_seller_is_forgotten_early(bought: date, years: int) -> None:
    assert keep_until(bought, years) - bought >= timedelta(days=365 * years)
