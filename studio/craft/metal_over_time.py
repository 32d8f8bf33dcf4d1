"""What was held week by week: the studio's own metal by alloy, its value, and customers' goods."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from studio.craft.goods import Good
from studio.craft.ledger import INSIDE, Account, Movement, Pot, balances
from studio.craft.metals import Alloy
from studio.craft.money import half_up, minor_digits, to_minor
from studio.craft.pricing import PriceMissing, price_per_gram
from studio.craft.rates import MetalPrice

MOST_ALLOYS = 6
"""So many alloys are told apart; what is less stands together as 'others'."""
OTHERS = ""
_NUMBER = re.compile(r"[0-9]+(?:,[0-9]{3})*(?:\.[0-9]+)?")
_SIGNS = "£$€¥₹"


def held_at(
    opening: Mapping[Pot, int], moved: Iterable[tuple[date, Movement]], days: Sequence[date]
) -> tuple[dict[Pot, int], ...]:
    """What each account holds at the end of each day, in mg: from what it held at the end of the first.

    `moved` are the movements after the first day, each with its day. 100 g on the first day and 5.6 g issued
    before the second: drawer 100,000, then 94,400.
    """
    by_day = sorted(moved, key=lambda one: one[0])
    found: list[dict[Pot, int]] = []
    for day in days:
        since = balances(one for on, one in by_day if days[0] < on <= day)
        held: dict[Pot, int] = defaultdict(int, opening)
        for pot, mass in since.items():
            held[pot] += mass
        found.append({pot: mass for pot, mass in held.items() if mass})
    return tuple(found)


def own_by_alloy(held: Mapping[Pot, int], accounts: Iterable[Account] = INSIDE) -> dict[str, int]:
    """The studio's own metal in these accounts by alloy, in mg; what is a customer's is in none."""
    found: dict[str, int] = defaultdict(int)
    wanted = frozenset(accounts)
    for pot, mass in held.items():
        if pot.account in wanted and not pot.owner_id:
            found[pot.alloy] += mass
    return {alloy: mass for alloy, mass in sorted(found.items()) if mass}


def told_apart(weeks: Sequence[Mapping[str, int]], most: int = MOST_ALLOYS) -> dict[str, tuple[int, ...]]:
    """Each alloy's mg week by week, those first of which most was held at any time, `OTHERS` last.

    Every week sums to what it held: nothing is left out.
    """
    alloys = {alloy for week in weeks for alloy in week}
    ranked = sorted(alloys, key=lambda alloy: (-max(week.get(alloy, 0) for week in weeks), alloy))
    found = {alloy: tuple(week.get(alloy, 0) for week in weeks) for alloy in ranked[:most]}
    if rest := ranked[most:]:
        found[OTHERS] = tuple(sum(week.get(alloy, 0) for alloy in rest) for week in weeks)
    return found


@dataclass(frozen=True, slots=True)
class Valued:
    """Metal by a day's prices, in minor units; `unpriced` are the alloys that day has no price for."""

    minor: int
    unpriced: tuple[str, ...] = ()


def value_of(
    held: Mapping[str, int], alloys: Mapping[str, Alloy], prices: Mapping[str, MetalPrice], currency: str
) -> Valued:
    """What metal is worth by its precious parts and the prices of a day, without premium or waste.

    100 g of silver 925 at 0.95 a gram: 87.88 (87.875, half up). Rounded once, of the sum.
    """
    total, unpriced = Decimal(0), []
    for key, mass_mg in held.items():
        try:
            total += Decimal(mass_mg) / 1000 * price_per_gram(alloys[key], prices)
        except (KeyError, PriceMissing):
            unpriced.append(key)
    return Valued(half_up(total.scaleb(minor_digits(currency))), tuple(unpriced))


@dataclass(frozen=True, slots=True)
class GoodsValue:
    """Customers' goods by what they are stated to be worth; `unstated` lines say no single amount."""

    minor: int
    lines: int
    unstated: int


def goods_value(goods: Iterable[Good], currency: str, sign: str) -> GoodsValue:
    """What goods are declared to be worth together, in minor units of the studio's currency.

    A stone of which the receipt declares nothing counts by what was said of it when it was ordered.
    """
    found = [_declared(one, currency, sign) for one in goods]
    return GoodsValue(sum(one or 0 for one in found), len(found), sum(one is None for one in found))


def _declared(one: Good, currency: str, sign: str) -> int | None:
    if one.value_minor is not None or one.stone is None:
        return one.value_minor
    return stated_minor(one.stone.value, currency, sign)


def stated_minor(words: str, currency: str, sign: str) -> int | None:
    """The one amount that somebody's words state, in minor units: 'about £1,200' gives 120000.

    None where they state none, or several, or in the sign of another currency.
    """
    numbers = _NUMBER.findall(words)
    if len(numbers) != 1 or any(one in words for one in _SIGNS if one not in sign):
        return None
    amount = Decimal(numbers[0].replace(",", ""))
    return to_minor(amount, currency) if amount == round(amount, minor_digits(currency)) else None
