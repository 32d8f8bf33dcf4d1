"""The studio's own figures for a price: what metal, an hour and everything else costs, and what it earns.

No amount of money and no minute stands in code: the book keeps these values, dated, and a quote freezes them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from enum import StrEnum


class WeightUnit(StrEnum):
    """What a metal price is for: a gram, a kilogram, a troy ounce."""

    G = "g"
    KG = "kg"
    TROY_OUNCE = "ozt"


GRAMS: Mapping[WeightUnit, Decimal] = {
    WeightUnit.G: Decimal(1),
    WeightUnit.KG: Decimal(1000),
    WeightUnit.TROY_OUNCE: Decimal("31.1034768"),
}
"""Grams in each unit. A troy ounce is 480 grains of 0.06479891 g, by the international agreement of 1959."""


@dataclass(frozen=True, slots=True)
class MetalPrice:
    """The price of one metal on one day, exactly as typed.

    `metal` is a precious metal ('silver'), or the key of an alloy without precious metal ('copper').
    """

    metal: str
    price: Decimal
    unit: WeightUnit
    on: date
    source: str

    @property
    def per_gram(self) -> Decimal:
        """The price of one gram in whole currency units, unrounded: 30.00 a troy ounce is 0.96452."""
        return self.price / GRAMS[self.unit]


class Extra(StrEnum):
    """What is bought in for a ring, each with a margin of its own outside the main one."""

    OUTSIDE_WORK = "outside work"
    FINDINGS = "findings"
    STONES = "stones"
    ASSAY = "assay"


@dataclass(frozen=True, slots=True)
class Rates:
    """The studio's figures as they stand on a day. Percent as Decimal, money in minor units of `currency`.

    `step_minor` is what the net sum is rounded up to (0: not at all). `assay_minor` is what the assay office
    asks for one ring; `letter_minor` is the cost of cutting one letter, `plating_minor` of plating one ring,
    `setting_minor` of setting one stone.
    `minutes` is planned time by operation, or by operation and design: 'solder',
    'pattern:hammered', 'profile:half-round'.
    """

    currency: str
    labour_hour_minor: int
    overhead_percent: Decimal
    consumables_minor: int
    premium_percent: Decimal
    waste_percent: Decimal
    margin_percent: Decimal
    extra_margin_percent: Mapping[Extra, Decimal]
    assay_minor: int
    tax_percent: Decimal
    step_minor: int
    deposit_percent: Decimal
    valid_days: int
    stale_after_days: int
    minutes: Mapping[str, int]
    letter_minor: int = 0
    plating_minor: int = 0
    setting_minor: int = 0
