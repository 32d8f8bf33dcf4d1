"""What the demo's studio reckons with: rates, minutes, and the metal prices of ten weeks. All invented."""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from random import Random

from studio.book.metal_prices import priced_metals
from studio.craft.rates import Extra, MetalPrice, Rates, WeightUnit

_MINUTES = {
    "weigh": 5,
    "roll": 10,
    "saw": 10,
    "profile:half-round": 25,
    "profile:low-dome": 25,
    "profile:court": 35,
    "profile:flat-court": 35,
    "profile:round": 30,
    "profile:knife-edge": 40,
    "pattern:hammered": 20,
    "pattern:stamped": 30,
    "square": 5,
    "anneal": 10,
    "bend": 10,
    "solder": 15,
    "round": 10,
    "sides": 15,
    "seam-pattern:hammered": 10,
    "seam-pattern:stamped": 15,
    "seam-pattern:rolled": 15,
    "trial": 45,
    "anneal-form": 10,
    "form": 40,
    "size": 5,
    "finish:plain": 30,
    "finish:hammered": 25,
    "finish:stamped": 25,
    "finish:rolled": 25,
}

RATES = Rates(
    currency="GBP",
    labour_hour_minor=48_00,
    overhead_percent=Decimal(25),
    consumables_minor=4_00,
    premium_percent=Decimal(12),
    waste_percent=Decimal(5),
    margin_percent=Decimal(30),
    extra_margin_percent={Extra.ASSAY: Decimal(10), Extra.OUTSIDE_WORK: Decimal(15)},
    assay_minor=12_00,
    letter_minor=2_50,
    plating_minor=18_00,
    setting_minor=12_00,
    tax_percent=Decimal(20),
    step_minor=5_00,
    deposit_percent=Decimal(40),
    valid_days=14,
    stale_after_days=7,
    minutes=_MINUTES,
)

_OUNCES = {
    "gold": Decimal(2150),
    "silver": Decimal("26.50"),
    "platinum": Decimal(960),
    "palladium": Decimal(880),
}
_KILOGRAMS = {"copper": Decimal("18.40"), "brass": Decimal("16.90")}
_OTHER_KILOGRAM = Decimal("21.50")
_LAST_BASE_METAL = timedelta(days=9)
"""Older than the studio's limit, so that the demo shows how an old price is flagged."""


def demo_prices(chance: Random, today: date, opened: date) -> Iterator[tuple[date, tuple[MetalPrice, ...]]]:
    """The days on which prices were entered, the first on the day the studio opened, with what they were."""
    yield opened, (*_precious(chance, opened), *_base(opened))
    day = opened + timedelta(days=(today - opened).days % 5)
    while day < today:
        if day > opened:
            yield day, _precious(chance, day)
        if day == today - timedelta(days=10):
            yield today - _LAST_BASE_METAL, _base(today - _LAST_BASE_METAL)
        day += timedelta(days=5)
    yield today, _precious(chance, today)


def _precious(chance: Random, day: date) -> tuple[MetalPrice, ...]:
    """The precious metals a few percent about their usual price."""
    return tuple(
        MetalPrice(
            metal,
            (usual * (1000 + chance.randint(-30, 30)) / 1000).quantize(Decimal("0.01")),
            WeightUnit.TROY_OUNCE,
            day,
            "our bullion dealer, by telephone",
        )
        for metal, usual in _OUNCES.items()
    )


def _base(day: date) -> tuple[MetalPrice, ...]:
    return tuple(
        MetalPrice(metal, _KILOGRAMS.get(metal, _OTHER_KILOGRAM), WeightUnit.KG, day, "last delivery note")
        for metal in priced_metals()
        if metal not in _OUNCES
    )
