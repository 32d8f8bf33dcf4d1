"""Metal that is promised and not yet bought, and metal that lies aside at the price it was bought for."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from studio.craft.money import half_up


@dataclass(frozen=True, slots=True)
class PromisedRing:
    """A ring of an agreed order whose blank is not cut: its order, its alloy by key, its issue in mg.

    `quoted_minor` is what its metal cost in the price that was agreed, None where nobody knows.
    """

    order: str
    alloy: str
    issue_mg: int
    quoted_minor: int | None


@dataclass(frozen=True, slots=True)
class Promised:
    """One alloy over all orders, in mg: what is promised, what lies aside for it, what is still to buy.

    `quoted_minor` is what the metal still to buy cost in the agreed prices, by its share of each ring's.
    """

    alloy: str
    rings: int
    issue_mg: int
    aside_mg: int
    to_buy_mg: int
    quoted_minor: int | None


@dataclass(frozen=True, slots=True)
class Aside:
    """Metal aside for an order, beside what its quote reckoned for the same metal: mg and minor units.

    `paid_minor` is None where it was not written down for all of it, `quoted_minor` where nothing was quoted.
    """

    aside_mg: int
    paid_minor: int | None
    issue_mg: int
    quoted_minor: int | None

    @property
    def served_mg(self) -> int:
        """How much of it the order needs: what is more is left over."""
        return min(self.aside_mg, self.issue_mg)

    @property
    def difference_minor(self) -> int | None:
        """How much more was paid for what the order needs of it than was quoted; less is below 0.

        9.00 g aside, paid 450.00, for a ring of 6.00 g quoted at 312.00: 300.00 against 312.00, 12.00 less.
        None where either is not known.
        """
        if self.paid_minor is None or self.quoted_minor is None or not self.issue_mg:
            return None
        served = Decimal(self.served_mg)
        return half_up(served * self.paid_minor / self.aside_mg) - half_up(
            served * self.quoted_minor / self.issue_mg
        )


def per_gram(minor: int, mass_mg: int) -> int:
    """An amount for so many mg, for one gram, half up to the minor unit: 450.00 for 9.00 g are 50.00."""
    return half_up(Decimal(minor) * 1000 / mass_mg)


def promised(rings: Iterable[PromisedRing], aside: Mapping[tuple[str, str], int]) -> tuple[Promised, ...]:
    """What is promised by alloy, in the order of its keys.

    `aside` is the mass in mg that lies aside by (order, alloy); it serves its own order alone, the first
    rings first, and what is more than an order needs serves no other. A ring of 6.20 g with 4.00 g aside for
    its order leaves 2.20 g to buy; of 8.68 that its metal was quoted at, 3.08 are for those.
    """
    left = dict(aside)
    sums: dict[str, list[PromisedRing]] = {}
    bought: dict[str, list[tuple[int, int | None]]] = {}
    for ring in rings:
        key = (ring.order, ring.alloy)
        taken = min(left.get(key, 0), ring.issue_mg)
        left[key] = left.get(key, 0) - taken
        rest = ring.issue_mg - taken
        share = None if ring.quoted_minor is None else round(ring.quoted_minor * rest / ring.issue_mg)
        sums.setdefault(ring.alloy, []).append(ring)
        bought.setdefault(ring.alloy, []).append((rest, share))
    return tuple(
        Promised(
            alloy=alloy,
            rings=len(sums[alloy]),
            issue_mg=(issue := sum(ring.issue_mg for ring in sums[alloy])),
            aside_mg=issue - (rest := sum(mg for mg, _ in bought[alloy])),
            to_buy_mg=rest,
            quoted_minor=None
            if any(share is None for _, share in bought[alloy])
            else sum(share or 0 for _, share in bought[alloy]),
        )
        for alloy in sorted(sums)
    )
