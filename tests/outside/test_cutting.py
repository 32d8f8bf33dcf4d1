"""Bin packing as published: sets in threes whose best plan is known from how they are made.

E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2 (1996); the
sets t60, t120, t249 of the OR-Library (J. E. Beasley) are made so. Three blanks and two kerfs fill each bar
exactly, so no plan needs fewer bars than a third of the blanks, and one needs no more.
"""

import pytest

from studio.craft.cutting import first_fit, plan
from tests.cutting import KERF_UM, check, triplets


@pytest.mark.parametrize("kerf", [0, KERF_UM], ids=["without kerf", "with kerf"])
def test_sixty_blanks_in_tight_threes_open_twenty_bars(kerf: int) -> None:
    stock, blanks = triplets(60, 1, kerf)
    made = plan(stock, blanks, kerf, seconds=30)
    check(made, stock, blanks, kerf)
    assert (len(made.pieces), made.is_proved) == (20, True)
    assert len(first_fit(stock, blanks, kerf).pieces) > 20


def test_a_hundred_and_twenty_open_forty() -> None:
    stock, blanks = triplets(120, 1)
    made = plan(stock, blanks, KERF_UM, seconds=60)
    check(made, stock, blanks, KERF_UM)
    assert (len(made.pieces), made.is_proved) == (40, True)
