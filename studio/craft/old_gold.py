"""Old gold bought over the counter: what it is worth, and how long its seller's particulars are kept."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from studio.craft.ledger import fine_mg
from studio.craft.metals import Metal
from studio.craft.money import minor_digits
from studio.craft.rates import MetalPrice
from studio.craft.refining import scrap_credit_minor

LONGEST_DESCRIPTION, LONGEST_MARKS, LONGEST_TESTED, LONGEST_IDENTITY = 300, 120, 120, 60
MOST_YEARS = 30
USUAL_PERCENT = Decimal(85)
"""Of its fine metal by the day's price, where nobody typed another share: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Worth:
    """What old gold is worth in minor units: all of its fine metal, and the share that is offered for it."""

    fine_mg: int
    whole_minor: int
    offer_minor: int


def worth_of(
    mass_mg: int,
    fineness: int,
    price: MetalPrice,
    currency: str,
    *,
    percent: Decimal = USUAL_PERCENT,
) -> Worth:
    """The worth of this weight, tested or marked so fine in parts per thousand, at the day's price.

    The fine weight is rounded down to the milligram, money half up. 8.42 g of 375 gold at 65.20 a gram fine
    holds 3,157 mg, 205.84 whole; at 85 % 174.96.
    """
    minor_a_gram = price.per_gram.scaleb(minor_digits(currency))
    whole, offer = (
        scrap_credit_minor(mass_mg, fineness, minor_a_gram, credited_percent=share)
        for share in (Decimal(100), percent)
    )
    return Worth(fine_mg(mass_mg, fineness), whole, offer)


def price_of(metal: Metal, prices: Mapping[str, MetalPrice]) -> MetalPrice | None:
    """The day's price of a precious metal, None where none was entered."""
    return prices.get(metal)


def keep_until(bought_on: date, years: int) -> date:
    """The last day on which a seller's particulars are kept: the same day `years` later, never before it.

    Bought on 29 February 2028, three years: 1 March 2031.
    """
    try:
        return bought_on.replace(year=bought_on.year + years)
    except ValueError:
        return date(bought_on.year + years, 3, 1)
