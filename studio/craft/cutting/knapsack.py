"""What fits into a length and is worth most: the question behind every bound.

Lengths are counted in steps, rounded down, so that what is found is never worth less than the true best;
where the step divides all lengths it is the true best.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd
from typing import Any

QUICK_CELLS = 4_000
MOST_WORK = 20_000_000
"""Cells times things, up to which a knapsack is filled exactly where that is asked for."""


@dataclass(frozen=True, slots=True)
class Knapsack:
    """The best values of every capacity up to the largest, and how they were come by."""

    step: int
    best: Any
    taken: Any
    steps: Sequence[int]

    def value(self, capacity: int) -> float:
        """An upper bound on what fits into this capacity."""
        return float(self.best[capacity // self.step])

    def places(self, capacity: int) -> list[int]:
        """Which things the value is made of. Where lengths were rounded they may be a little too long."""
        at = capacity // self.step
        found = []
        for number in range(len(self.steps) - 1, -1, -1):
            if self.taken[number, at]:
                found.append(number)
                at -= self.steps[number]
        return found


def knapsack(
    sizes: Sequence[int], values: Sequence[float], capacity: int, *, is_exact: bool = False
) -> Knapsack:
    """For things with these sizes and values, each to be taken once at most.

    Exact where it is asked for and not too much work, or where the lengths have a step of their own.
    """
    import numpy as np  # noqa: PLC0415  comes with the solver, and only planning asks for it

    step = gcd(*sizes) if sizes else max(capacity, 1)
    if capacity // step > (MOST_WORK // max(len(sizes), 1) if is_exact else QUICK_CELLS):
        step = -(-capacity // QUICK_CELLS)
    cells = capacity // step + 1
    best = np.zeros(cells)
    taken = np.zeros((len(sizes), cells), dtype=bool)
    steps = [size // step for size in sizes]
    for number, (size, value) in enumerate(zip(steps, values, strict=True)):
        if value <= 0 or size >= cells:
            continue
        if size == 0:
            best += value
            taken[number] = True
            continue
        more = best[:-size] + value
        better = more > best[size:]
        taken[number, size:] = better
        best[size:] = np.where(better, more, best[size:])
    return Knapsack(step, best, taken, steps)


def copies(most: int) -> list[int]:
    """Bundles that make up every number to `most`: 7 is 1, 2, 4."""
    bundles = []
    bundle = 1
    while most > 0:
        bundles.append(min(bundle, most))
        most -= bundles[-1]
        bundle *= 2
    return bundles
