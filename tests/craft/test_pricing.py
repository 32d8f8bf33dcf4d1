"""The price, step by step. The worked example is the one DEVELOPERS.md explains."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from studio.craft.alloys import ALLOYS
from studio.craft.money import from_minor, half_up, minor_digits, share, to_minor, up_to_step
from studio.craft.pricing import (
    Bought,
    Job,
    PriceMissing,
    metal_minor,
    price,
    price_per_gram,
    ring_price,
    with_margin,
)
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit

ON = date(2026, 11, 25)
SILVER = MetalPrice("silver", Decimal("30.00"), WeightUnit.TROY_OUNCE, ON, "worked example")
GOLD = MetalPrice("gold", Decimal("85.5"), WeightUnit.G, ON, "worked example")
COPPER = MetalPrice("copper", Decimal("9.80"), WeightUnit.KG, ON, "worked example")
PRICES = {found.metal: found for found in (SILVER, GOLD, COPPER)}
RATES = Rates(
    currency="GBP", labour_hour_minor=4800, overhead_percent=Decimal(25), consumables_minor=400,
    premium_percent=Decimal(12), waste_percent=Decimal(5), margin_percent=Decimal(30),
    extra_margin_percent={}, assay_minor=1200, tax_percent=Decimal(20), step_minor=0,
    deposit_percent=Decimal(40), valid_days=14, stale_after_days=7, minutes={},
)  # fmt: skip
ASSAY = Bought(Extra.ASSAY, "Assay", 1200)
JOB = Job("The ring", ALLOYS["silver-925"], 6200, 150, (ASSAY,))


def test_the_worked_example_comes_out_to_the_penny() -> None:
    ring = ring_price(JOB, PRICES, RATES)
    assert (ring.metal_minor, ring.labour_minor, ring.overhead_minor) == (651, 12000, 3000)
    assert (ring.own_minor, ring.line_minor) == (16051, 22930)
    whole = price([JOB], PRICES, RATES)
    assert [(line.text, line.net_minor, line.tax_minor) for line in whole.lines] == [
        ("The ring", 22930, 4586),
        ("Assay", 1200, 240),
    ]
    assert (whole.net_minor, whole.tax_minor, whole.total_minor) == (24130, 4826, 28956)
    assert whole.deposit_minor == 11582


def test_a_margin_is_not_a_mark_up() -> None:
    assert with_margin(16051, Decimal(30)) == 22930
    assert share(16051, Decimal(130)) == 20866


@pytest.mark.parametrize("margin", [Decimal(-1), Decimal(95), Decimal(100)])
def test_a_margin_that_runs_away_is_refused(margin: Decimal) -> None:
    with pytest.raises(ValueError, match="below 95"):
        with_margin(100, margin)


def test_the_net_sum_is_rounded_up_into_the_first_ring() -> None:
    plain = price([JOB, JOB], PRICES, RATES)
    stepped = price([JOB, JOB], PRICES, replace(RATES, step_minor=500))
    assert stepped.net_minor % 500 == 0
    assert 0 <= stepped.rounding_minor < 500
    assert stepped.lines[0].net_minor == plain.lines[0].net_minor + stepped.rounding_minor
    assert stepped.lines[1:] == plain.lines[1:]


def test_a_sum_that_stands_on_the_step_stays() -> None:
    assert [up_to_step(minor, 500) for minor in (24130, 24500, 24501, 0)] == [24500, 24500, 25000, 0]
    assert up_to_step(24130, 0) == 24130


def test_each_extra_carries_its_own_margin() -> None:
    rates = replace(RATES, extra_margin_percent={Extra.STONES: Decimal(50)})
    stone = Bought(Extra.STONES, "A stone", 10000)
    ring = ring_price(replace(JOB, bought=(ASSAY, stone)), PRICES, rates)
    assert [minor for _, minor in ring.extras] == [1200, 20000]


def test_an_alloy_is_priced_by_all_its_precious_parts() -> None:
    parts = ALLOYS["gold-750-yellow"].composition
    expected = Decimal("85.5") * parts["Au"] / 1000 + SILVER.per_gram * parts["Ag"] / 1000
    assert price_per_gram(ALLOYS["gold-750-yellow"], PRICES) == expected


def test_an_alloy_without_precious_metal_has_a_price_of_its_own() -> None:
    assert price_per_gram(ALLOYS["copper"], PRICES) == Decimal("0.0098")
    with pytest.raises(PriceMissing) as missing:
        price_per_gram(ALLOYS["brass"], PRICES)
    assert missing.value.metal == "brass"


def test_a_metal_without_a_price_is_named() -> None:
    with pytest.raises(PriceMissing) as missing:
        price([Job("Platinum", ALLOYS["platinum-950-ru"], 9000, 60)], PRICES, RATES)
    assert missing.value.metal == "platinum"


def test_the_working_of_a_price_ends_at_its_line() -> None:
    ring = ring_price(JOB, PRICES, RATES)
    assert [working.figure for working in ring.working] == [
        "price.metal", "price.labour", "price.overhead", "price.own", "price.line",
    ]  # fmt: skip
    assert ring.working[-1].value == pytest.approx(229.30)
    assert "worked example" in ring.working[0].source


@pytest.mark.parametrize(
    ("currency", "minor", "amount"), [("GBP", 651, "6.51"), ("JPY", 651, "651"), ("KWD", 651, "0.651")]
)
def test_minor_units_go_there_and_back(currency: str, minor: int, amount: str) -> None:
    assert from_minor(minor, currency) == Decimal(amount)
    assert to_minor(Decimal(amount), currency) == minor


def test_a_half_goes_away_from_zero() -> None:
    assert [half_up(Decimal(number)) for number in ("0.5", "1.5", "650.5", "-0.5")] == [1, 2, 651, -1]


def test_a_price_without_minor_units_is_whole() -> None:
    yen = replace(RATES, currency="JPY", labour_hour_minor=9000, consumables_minor=750)
    silver = {"silver": replace(SILVER, price=Decimal(5100))}
    assert metal_minor(ALLOYS["silver-925"], 6200, silver, yen) == 1106
    assert minor_digits("JPY") == 0
