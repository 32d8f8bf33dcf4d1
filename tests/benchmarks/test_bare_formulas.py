"""The bare formulas give what the reckoning gives: so they are the same, and its floor."""

import pytest

from tests.benchmarks.bare_formulas import bare, given
from tests.papers.sheets import SHEETS


@pytest.mark.parametrize("name", SHEETS)
def test_the_bare_formulas_give_the_figures_of_the_reckoning(name: str) -> None:
    ring = SHEETS[name].reckoning
    found = bare(given(ring))
    assert (
        found.circumference,
        found.diameter,
        found.true_length,
        found.mark,
        found.blank,
        found.issue,
        found.ring,
        found.finished,
        found.doubt,
        found.chance,
    ) == pytest.approx(
        (
            ring.circumference_mm,
            ring.diameter_mm,
            ring.true_length_mm,
            ring.mark_mm,
            ring.blank_g,
            ring.issue_g,
            ring.ring_g,
            ring.finished_g,
            ring.doubt.plus_minus_mm,
            ring.doubt.chance,
        ),
        rel=1e-9,
    )
