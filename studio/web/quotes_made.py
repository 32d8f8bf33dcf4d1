"""What a quote is made of, for the studio's eyes: each way to make it with its sum."""

from collections.abc import Mapping
from dataclasses import dataclass

from studio.craft.pricing import PriceBreakdown
from studio.craft.rates import Rates
from studio.web.counter_page import SumRow
from studio.web.counter_price import breakdown_rows


@dataclass(frozen=True, slots=True)
class MadeOf:
    """One way to make it: its title, '' where there is no choice, and the rows of its sum."""

    title: str
    rows: tuple[SumRow, ...]


def made_of(prices: Mapping[str, PriceBreakdown], rates: Rates | None = None) -> tuple[MadeOf, ...]:
    """What each way is made of, by its key; `rates` say the percentages where they are known."""
    return tuple(
        MadeOf(f"Variant {key.upper()}" if len(prices) > 1 else "", breakdown_rows(price, rates))
        for key, price in prices.items()
    )
