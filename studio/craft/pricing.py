"""What a ring costs the studio and what the customer pays, to the minor unit, with its working.

In Decimal from whole milligrams, minutes and minor units. Every line is rounded half up to the minor unit
before it is added, so that the lines on paper sum to the total.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from studio.craft.metals import Alloy, Metal
from studio.craft.money import half_up, minor_digits, share, up_to_step
from studio.craft.rates import Extra, MetalPrice, Rates
from studio.craft.working import Input, Notes, Working

HIGHEST_MARGIN_PERCENT = Decimal(95)
OWN_RATES = "the studio's own rates"
_HUNDRED = Decimal(100)
_MG_IN_G = Decimal(1000)
_MINUTES_IN_HOUR = Decimal(60)
_PARTS = Decimal(1000)
_METAL_OF_ELEMENT: Mapping[str, Metal] = {
    "Au": Metal.GOLD,
    "Ag": Metal.SILVER,
    "Pt": Metal.PLATINUM,
    "Pd": Metal.PALLADIUM,
}


@dataclass(frozen=True, slots=True)
class Bought:
    """Something bought in for a ring, at its cost."""

    kind: Extra
    text: str
    cost_minor: int


@dataclass(frozen=True, slots=True)
class Job:
    """One ring to be priced: what it is called on the quote, its metal and its minutes."""

    text: str
    alloy: Alloy
    issue_mg: int
    minutes: int
    bought: tuple[Bought, ...] = ()


class PriceMissing(ValueError):
    """No price is known for a metal that the ring needs."""

    def __init__(self, metal: str) -> None:
        super().__init__(f"no price for {metal}")
        self.metal = metal


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line the customer sees."""

    text: str
    net_minor: int
    tax_minor: int


@dataclass(frozen=True, slots=True)
class RingPrice:
    """What one ring costs and earns, for the studio's eyes. Everything in minor units.

    `own_minor` is metal, labour, overhead and consumables; `line_minor` the ring's own line before the sum
    is rounded to the step; `extras` what is bought in, each with the price asked for it.
    """

    job: Job
    metal_minor: int
    labour_minor: int
    overhead_minor: int
    consumables_minor: int
    own_minor: int
    line_minor: int
    extras: tuple[tuple[Bought, int], ...]
    working: tuple[Working, ...]

    @property
    def margin_minor(self) -> int:
        """What the ring's own line earns over its cost."""
        return self.line_minor - self.own_minor

    @property
    def cost_minor(self) -> int:
        """What the ring costs the studio, with what is bought in for it."""
        return self.own_minor + sum(bought.cost_minor for bought, _ in self.extras)


@dataclass(frozen=True, slots=True)
class PriceBreakdown:
    """A whole price. `lines` are the customer's; they sum to `net_minor` and `tax_minor` exactly.

    `rounding_minor` is what rounding the net sum up to the studio's step added; it stands in the first
    ring's line.
    """

    currency: str
    rings: tuple[RingPrice, ...]
    rounding_minor: int
    lines: tuple[QuoteLine, ...]
    net_minor: int
    tax_minor: int
    total_minor: int
    deposit_minor: int

    @property
    def cost_minor(self) -> int:
        """What all of it costs the studio."""
        return sum(ring.cost_minor for ring in self.rings)

    @property
    def margin_minor(self) -> int:
        """What the studio earns: the net sum less the cost."""
        return self.net_minor - self.cost_minor


def metals_priced(alloy: Alloy) -> tuple[str, ...]:
    """What a price has to be known for: the precious metals in an alloy, or a base metal's own key.

    750 yellow gold: gold and silver; copper: copper.
    """
    if not alloy.is_precious:
        return (alloy.priced_as or alloy.key,)
    return tuple(metal for metal, _ in _precious_parts(alloy))


def price_per_gram(alloy: Alloy, prices: Mapping[str, MetalPrice]) -> Decimal:
    """The day's price of one gram of an alloy, in whole currency units, unrounded. Raises `PriceMissing`.

    The sum over its precious parts of price a gram x mass share; an alloy without precious metal has a price
    of its own. Silver 925 at 30.00 a troy ounce: 0.925 x 0.96452 = 0.89218.
    """
    if not alloy.is_precious:
        return _known(prices, alloy.priced_as or alloy.key).per_gram
    return sum(
        (_known(prices, metal).per_gram * parts / _PARTS for metal, parts in _precious_parts(alloy)),
        start=Decimal(0),
    )


def metal_minor(alloy: Alloy, issue_mg: int, prices: Mapping[str, MetalPrice], rates: Rates) -> int:
    """What the metal of one ring costs, in minor units. Raises `PriceMissing`.

    Issue in g x price a gram x (1 + premium) x (1 + waste). 6.20 g of silver 925 at 30.00 a troy ounce,
    premium 12 %, waste 5 %: 6.51.
    """
    with_premium = 1 + rates.premium_percent / _HUNDRED
    with_waste = 1 + rates.waste_percent / _HUNDRED
    amount = Decimal(issue_mg) / _MG_IN_G * price_per_gram(alloy, prices) * with_premium * with_waste
    return half_up(amount.scaleb(minor_digits(rates.currency)))


def with_margin(cost_minor: int, margin_percent: Decimal) -> int:
    """What to ask so that `margin_percent` of the price is earned: cost / (1 - margin), half up.

    A margin, not a mark-up: 160.51 at 30 % gives 229.30 (a mark-up would give 208.66). Raises ValueError
    below 0 % and from 95 % on, where the price runs away.
    """
    if not 0 <= margin_percent < HIGHEST_MARGIN_PERCENT:
        raise ValueError(f"a margin is at least 0 and below {HIGHEST_MARGIN_PERCENT} %")
    return half_up(Decimal(cost_minor) / (1 - margin_percent / _HUNDRED))


def ring_price(job: Job, prices: Mapping[str, MetalPrice], rates: Rates) -> RingPrice:
    """What one ring costs and earns. Raises `PriceMissing`.

    Worked: 6.20 g silver 925 at 30.00 a troy ounce, premium 12 %, waste 5 %: 6.51; 150 min at 48 an hour:
    120.00; overhead 25 % of it: 30.00; consumables 4.00; own 160.51; margin 30 %: 229.30.
    """
    metal = metal_minor(job.alloy, job.issue_mg, prices, rates)
    labour = half_up(Decimal(job.minutes) / _MINUTES_IN_HOUR * rates.labour_hour_minor)
    overhead = share(labour, rates.overhead_percent)
    own = metal + labour + overhead + rates.consumables_minor
    ring = RingPrice(
        job=job,
        metal_minor=metal,
        labour_minor=labour,
        overhead_minor=overhead,
        consumables_minor=rates.consumables_minor,
        own_minor=own,
        line_minor=with_margin(own, rates.margin_percent),
        extras=tuple(
            (bought, with_margin(bought.cost_minor, rates.extra_margin_percent.get(bought.kind, Decimal(0))))
            for bought in job.bought
        ),
        working=(),
    )
    return replace(ring, working=_workings(ring, prices, rates))


def price(jobs: Sequence[Job], prices: Mapping[str, MetalPrice], rates: Rates) -> PriceBreakdown:
    """The whole price of an order's rings. Raises `PriceMissing`, and ValueError without a ring.

    The net sum is rounded up to the studio's step before tax, and the difference stands in the first ring's
    line; tax is taken per line, half up; the deposit is a share of the total. The worked ring of `ring_price`
    with an assay of 12.00 and tax of 20 %: 45.86 + 2.40 tax, total 289.56.
    """
    if not jobs:
        raise ValueError("a price needs a ring")
    rings = tuple(ring_price(job, prices, rates) for job in jobs)
    asked = [
        line
        for ring in rings
        for line in (
            (ring.job.text, ring.line_minor),
            *((bought.text, minor) for bought, minor in ring.extras),
        )
    ]
    exact = sum(minor for _, minor in asked)
    rounding = up_to_step(exact, rates.step_minor) - exact
    (first_text, first_minor), *others = asked
    lines = tuple(
        QuoteLine(text, minor, share(minor, rates.tax_percent))
        for text, minor in [(first_text, first_minor + rounding), *others]
    )
    net, tax = sum(line.net_minor for line in lines), sum(line.tax_minor for line in lines)
    deposit = share(net + tax, rates.deposit_percent)
    return PriceBreakdown(rates.currency, rings, rounding, lines, net, tax, net + tax, deposit)


def _known(prices: Mapping[str, MetalPrice], metal: str) -> MetalPrice:
    try:
        return prices[metal]
    except KeyError:
        raise PriceMissing(metal) from None


def _precious_parts(alloy: Alloy) -> list[tuple[Metal, int]]:
    return [
        (_METAL_OF_ELEMENT[element], parts)
        for element, parts in alloy.composition.items()
        if element in _METAL_OF_ELEMENT
    ]


def _workings(ring: RingPrice, prices: Mapping[str, MetalPrice], rates: Rates) -> tuple[Working, ...]:
    """How each amount of a ring came about; money in whole currency units, percent as typed."""
    money, notes, job = rates.currency, Notes(), ring.job
    digits = minor_digits(money)

    def whole(minor: int) -> float:
        return float(Decimal(minor).scaleb(-digits))

    used = [_known(prices, metal) for metal in metals_priced(job.alloy)]
    notes.note(
        "price.metal", whole(ring.metal_minor), money,
        "issue x price of a gram x (1 + premium / 100) x (1 + waste / 100)",
        Input("issue", job.issue_mg / 1000, "g"),
        Input("price of a gram", float(price_per_gram(job.alloy, prices)), f"{money}/g"),
        Input("premium", float(rates.premium_percent), "%"),
        Input("waste", float(rates.waste_percent), "%"),
        source="; ".join(dict.fromkeys(f"{found.source}, {found.on.isoformat()}" for found in used)),
    )  # fmt: skip
    notes.note(
        "price.labour", whole(ring.labour_minor), money, "minutes / 60 x rate of an hour",
        Input("minutes", job.minutes, "min"), Input("rate of an hour", whole(rates.labour_hour_minor), money),
        source=OWN_RATES,
    )  # fmt: skip
    notes.note(
        "price.overhead", whole(ring.overhead_minor), money, "labour x overhead / 100",
        Input("labour", whole(ring.labour_minor), money),
        Input("overhead", float(rates.overhead_percent), "%"),
        source=OWN_RATES,
    )  # fmt: skip
    notes.note(
        "price.own", whole(ring.own_minor), money, "metal + labour + overhead + consumables",
        Input("metal", whole(ring.metal_minor), money), Input("labour", whole(ring.labour_minor), money),
        Input("overhead", whole(ring.overhead_minor), money),
        Input("consumables", whole(ring.consumables_minor), money),
        source=OWN_RATES,
    )  # fmt: skip
    notes.note(
        "price.line", whole(ring.line_minor), money, "own / (1 - margin / 100)",
        Input("own", whole(ring.own_minor), money), Input("margin", float(rates.margin_percent), "%"),
        source=OWN_RATES,
    )  # fmt: skip
    return notes.working
