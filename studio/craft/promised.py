"""Metal that is promised and not yet bought: what agreed orders need beyond what lies aside for them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass


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
