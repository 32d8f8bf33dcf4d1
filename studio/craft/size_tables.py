"""Ring sizes that go by no rule: Hong Kong and India, by the tables that are printed of them.

Between two printed numbers a size lies on the straight line between them; beyond the table there is none.
Sellers' charts disagree, India's by about two numbers: whoever reads such a size is told so, with the other
chart's figure.
"""

from bisect import bisect_left
from collections.abc import Mapping
from itertools import pairwise

from studio.craft.designs import System

Table = tuple[tuple[float, float], ...]
"""Numbers with their circumference in mm, both rising."""

TABLES: Mapping[System, Table] = {
    # Hong Kong, with Singapore's numbers beside it, in one seller's comparison chart
    System.HK: (
        (6, 44.2), (7.5, 45.5), (9, 46.8), (10, 48.0), (11, 49.3), (12, 50.6), (13, 51.9), (17, 55.7),
        (18, 57.0), (20.5, 59.5), (23, 62.1), (24, 63.4), (25, 64.6), (27.75, 67.2), (30, 69.7),
    ),
    # India: two sellers' charts and the encyclopedic article "Ring size" agree on these
    System.IN: (
        (1, 41.0), (2, 41.7), (3, 42.9), (6, 46.1), (8, 48.0), (9, 48.7), (10, 50.0), (11, 51.2), (12, 51.9),
        (14, 54.4), (15, 55.1), (16, 56.3), (17, 57.0), (19, 58.9), (22, 62.1), (25, 64.6), (27, 67.2),
        (30, 69.7), (31, 71.0),
    ),
}  # fmt: skip

OTHER_INDIA: Table = (
    (8, 45.5), (10, 48.0), (12, 50.6), (14, 53.1), (16, 54.4), (17, 55.7), (18, 56.9), (20, 59.5),
    (22, 61.9), (24, 64.4),
)  # fmt: skip
"""A third seller's chart of India's numbers, about two numbers higher for the same ring."""


def by_table(table: Table, number: float) -> float | None:
    """Circumference of a number in mm, on the line between the two printed beside it; None beyond the table.

    India 13, between 12 (51.9) and 14 (54.4): 53.15.
    """
    numbers = [printed for printed, _ in table]
    if not numbers[0] <= number <= numbers[-1]:
        return None
    place = max(1, bisect_left(numbers, number))
    (low, low_mm), (high, high_mm) = table[place - 1], table[place]
    return low_mm + (high_mm - low_mm) * (number - low) / (high - low)


def disagreement_words(system: System, number: float, label: str) -> str:
    """What to beware of in a size by table; nothing for a system that has a rule.

    India 14: 'India has no rule, and its charts disagree: 14 is 54.4 mm round by two of them, 53.1 by a
    third. Measure it once more in mm.'
    """
    if system is System.IN:
        by_most, by_third = by_table(TABLES[system], number), by_table(OTHER_INDIA, number)
        if by_most is None:
            return ""
        third = "not listed by a third" if by_third is None else f"{by_third:.1f} by a third"
        return (
            f"India has no rule, and its charts disagree: {label} is {by_most:.1f} mm round by two of them, "
            f"{third}. Measure it once more in mm."
        )
    if system is System.HK:
        steps = [(b_mm - a_mm) / (b - a) for (a, a_mm), (b, b_mm) in pairwise(TABLES[system])]
        return (
            f"Hong Kong has no rule; its numbers are those of one chart, which steps by {min(steps):.2f} to "
            f"{max(steps):.2f} mm. Measure it once more in mm."
        )
    return ""
