"""What any plan must open at least: prices on blanks, and what a piece can hold at these prices.

Give every blank a price. No cut piece can hold more than the dearest set of strips, each the dearest set of
blanks; so the pieces opened must together be able to hold the sum of all prices. That is true of any prices:
areas give the plain bound by material, prices from the relaxation (`relaxation.py`) a sharper one.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from studio.craft.cutting.fills import largest_fill
from studio.craft.cutting.kinds import Size
from studio.craft.cutting.knapsack import copies, knapsack
from studio.craft.cutting.task import Task

MOST_EXACT = 250
"""With more blanks of one width than these some always fill a strip to the last; it is taken as full."""


@dataclass(frozen=True, slots=True)
class Demand:
    """The pieces opened hold together at least `need`, one of size number i at most `holds[i]`."""

    holds: tuple[float, ...]
    need: float


def by_material(task: Task, sizes: Sequence[Size]) -> Demand:
    """Every blank at the price of its area with its kerfs; lengths exact."""
    kerf = task.kerf
    lying: dict[int, list[int]] = defaultdict(list)
    for item in task.items:
        for lie in item.lies:
            lying[lie.across].append(lie.along + kerf)
    fills: dict[tuple[int, int], float] = {}
    for length in {size.length for size in sizes}:
        for across, alongs in lying.items():
            within = [along for along in alongs if along <= length + kerf]
            full = (length + kerf) if len(within) > MOST_EXACT else largest_fill(within, length + kerf)
            fills[length, across] = float(full * (across + kerf))
    counts = {across: len(alongs) for across, alongs in lying.items()}
    need = sum((item.lies[0].along + kerf) * (item.lies[0].across + kerf) for item in task.items)
    return Demand(_holds(sizes, fills, counts, kerf), float(need))


def by_prices(task: Task, sizes: Sequence[Size], prices: Mapping[int, float]) -> Demand:
    """Every blank at the price given for its place in the list; prices are not negative."""
    kerf = task.kerf
    longest = max(size.length for size in sizes) + kerf
    fills: dict[tuple[int, int], float] = {}
    counts: dict[int, int] = {}
    for across in {lie.across for item in task.items for lie in item.lies}:
        lying = [
            (lie.along + kerf, prices[item.place])
            for item in task.items
            for lie in item.lies
            if lie.across == across
        ]
        counts[across] = len(lying)
        held = knapsack([along for along, _ in lying], [price for _, price in lying], longest, is_exact=True)
        for length in {size.length for size in sizes}:
            fills[length, across] = held.value(length + kerf)
    need = sum(prices[item.place] for item in task.items)
    return Demand(_holds(sizes, fills, counts, kerf), need * (1 - 1e-10))


def _holds(
    sizes: Sequence[Size], fills: Mapping[tuple[int, int], float], counts: Mapping[int, int], kerf: int
) -> tuple[float, ...]:
    """What each size holds at most: the dearest strips that lie side by side."""
    held: dict[tuple[int, int], float] = {}
    widest: dict[int, int] = defaultdict(int)
    for size in sizes:
        widest[size.length] = max(widest[size.length], size.width)
    for length, width in widest.items():
        spaces: list[int] = []
        values: list[float] = []
        for across, count in counts.items():
            for bundle in copies(min(count, (width + kerf) // (across + kerf))):
                spaces.append(bundle * (across + kerf))
                values.append(bundle * fills[length, across])
        best = knapsack(spaces, values, width + kerf, is_exact=True)
        for size in sizes:
            if size.length == length:
                held[size.length, size.width] = best.value(size.width + kerf)
    return tuple(held[size.length, size.width] for size in sizes)
