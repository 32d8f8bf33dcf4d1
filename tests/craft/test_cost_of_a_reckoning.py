"""A reckoning is asked for at every key that is pressed: what would make it slow stays out of it."""

import subprocess
import sys
from random import Random

import pytest

from studio.book.demo_rings import RingMaker
from studio.book.order_values import RingDraft
from studio.craft.drawing import Cut, counter_drawing
from studio.craft.reckonings import reckon

MOST_PATHS = 26
MOST_ELEMENTS = 52
"""What a browser has to lay out: hatching, ticks and arrows are joined, each kind in one path."""
SIGNS = 36_000


@pytest.fixture(scope="module")
def rings() -> list[RingDraft]:
    maker = RingMaker(Random(118))  # noqa: S311  the same rings every time
    return [maker.one() for _ in range(120)]


def test_no_registry_of_units_stands_behind_a_formula() -> None:
    asked = "import sys, studio.craft.reckonings, studio.craft.drawing; print('pint' in sys.modules)"
    assert subprocess.check_output([sys.executable, "-c", asked], text=True).strip() == "False"


@pytest.mark.parametrize("cut", Cut)
def test_a_drawing_is_joined_into_few_paths(rings: list[RingDraft], cut: Cut) -> None:
    for ring in rings:
        markup = counter_drawing(reckon(ring.finger, ring.design), cut).markup
        assert 0 < markup.count("<path") <= MOST_PATHS
        assert markup.count("<") - markup.count("</") <= MOST_ELEMENTS
        assert len(markup) <= SIGNS
