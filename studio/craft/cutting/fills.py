"""Fullest fills: which of some lengths together come closest to a capacity. Exact, in whole micrometres."""

from collections.abc import Sequence
from math import gcd


def fullest(sizes: Sequence[int], capacity: int) -> list[int]:
    """Places of those sizes whose sum is largest without passing the capacity.

    Every sum that can be reached is one bit of a number, so adding a size is one shift. Sizes 3, 5, 7 into
    11: the places of 3 and 7.
    """
    if not sizes:
        return []
    step = gcd(*sizes)
    steps = [size // step for size in sizes]
    mask = (1 << (capacity // step + 1)) - 1
    reached = [1]
    for size in steps:
        reached.append((reached[-1] | (reached[-1] << size)) & mask)
    return _taken(steps, reached, reached[-1].bit_length() - 1)


def between(sizes: Sequence[int], low: int, high: int) -> list[int] | None:
    """Places of sizes whose sum lies from `low` to `high`, the largest such sum; None where there is none."""
    taken = fullest(sizes, high)
    return taken if sum(sizes[at] for at in taken) >= low else None


def largest_fill(sizes: Sequence[int], capacity: int) -> int:
    """The largest sum of some of the sizes that does not pass the capacity."""
    if not sizes:
        return 0
    step = gcd(*sizes)
    mask = (1 << (capacity // step + 1)) - 1
    reached = 1
    for size in sizes:
        reached |= (reached << (size // step)) & mask
    return (reached.bit_length() - 1) * step


def _taken(steps: Sequence[int], reached: Sequence[int], total: int) -> list[int]:
    """Walk back from a sum that was reached to the sizes it was made of."""
    taken = []
    for at in range(len(steps) - 1, -1, -1):
        if total == 0:
            break
        if not (reached[at] >> total) & 1:
            taken.append(at)
            total -= steps[at]
    return taken[::-1]
