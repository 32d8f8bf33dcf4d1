"""The pieces of least area that together hold enough, where one demand says what is enough."""

from collections.abc import Sequence
from math import gcd

from studio.craft.cutting.bound import Demand
from studio.craft.cutting.kinds import Size

MOST_CELLS = 400_000


def least_cover(sizes: Sequence[Size], demand: Demand, spare: float, at_most: int) -> tuple[int, ...] | None:
    """How many of each size: least area, and of that area what holds most. None where that is too much.

    Counts areas in their common step, below `at_most`. Where no such choice holds enough, the answer opens
    `at_most` or more: all pieces.
    """
    import numpy as np  # noqa: PLC0415  comes with the solver, and only planning asks for it

    step = gcd(*(size.area for size in sizes))
    cells = at_most // step + 1
    singles = [number for number, size in enumerate(sizes) for _ in size.pieces]
    if cells > MOST_CELLS or cells * len(singles) > 40 * MOST_CELLS:
        return None
    holds = np.zeros(cells)
    taken = np.zeros((len(singles), cells), dtype=bool)
    for at, number in enumerate(singles):
        area = sizes[number].area // step
        if area >= cells:
            continue
        more = holds[:-area] + demand.holds[number]
        better = more > holds[area:]
        taken[at, area:] = better
        holds[area:] = np.where(better, more, holds[area:])
    enough = np.flatnonzero(holds >= demand.need * (1 + spare))
    if not len(enough):
        return tuple(len(size.pieces) for size in sizes)
    cell = int(enough[0])
    counts = [0] * len(sizes)
    for at in range(len(singles) - 1, -1, -1):
        if taken[at, cell]:
            counts[singles[at]] += 1
            cell -= sizes[singles[at]].area // step
    return tuple(counts)
