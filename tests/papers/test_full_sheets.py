"""A sheet of everything at once, on every paper: twenty stones, three lines of name, words from right."""

import pytest

from studio.craft.designs import Pattern
from studio.craft.particulars import (
    Face,
    Inscription,
    Marks,
    Particulars,
    Risk,
    Setting,
    Stone,
    Surface,
    Whose,
)
from studio.craft.printers import Drawn, PaperSize
from studio.craft.stones import MOST_KINDS, stone_line
from studio.papers.bench_sheet import RingToMake, bench_sheets
from studio.papers.printing import printed
from tests.papers.crossed import crossed
from tests.papers.laid_out import out_of_page, overlapping
from tests.papers.printed import reader, text_of
from tests.papers.sheets import a_reckoning, a_ring

NAME = (
    "Konstantina Maria Papadimitriou-Featherstonehaugh, Bartholomew Wolfeschlegelsteinhausenberger and "
    "their daughter Philippa Papadimitriou-Wolfeschlegelstein"
)
WORDS = "אהבת עולם"
STONES = tuple(
    Stone(
        count=at,
        shape="oval, antique cushion with a pavilion that bulges",
        size=f"{3 + at / 10:.1f} by 2.{at:02} mm",
        stated=f"stone number {at}",
        tested="corundum",
        condition="a chip at the girdle and a feather under the table",
        setting=Setting.BEZEL,
        whose=Whose.CUSTOMER,
        risk=Risk.CUSTOMER,
    )
    for at in range(1, MOST_KINDS + 1)
)


def a_full_ring(paper: PaperSize) -> RingToMake:
    """A ring of which everything that can be said is said, at length."""
    return a_ring(
        a_reckoning(pattern=Pattern.HAMMERED),
        customer=NAME,
        particulars=Particulars(
            Surface.POLISHED, Surface.MATT, Inscription(WORDS, Face.INSIDE), STONES, Marks()
        ),
        note="Would like to watch the seam being closed. " * 10,
        avoid="nickel and cobalt",
        drawn=Drawn("Back room", paper, 97.2, 103.0),
    )


@pytest.mark.parametrize("paper", PaperSize)
def test_nothing_of_a_full_sheet_overlaps_is_crossed_or_falls_off(paper: PaperSize) -> None:
    pdf = printed(bench_sheets([a_full_ring(paper)], title="Bench sheet"))
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    assert crossed(pdf) == []
    assert reader(pdf).get_num_pages() > 1
    told = text_of(pdf).replace(" ", "").replace("\n", "")
    for stone in STONES:
        assert stone_line(stone).replace(" ", "") in told
    assert NAME.replace(" ", "") in told
    first, second = WORDS.split()
    assert first in told
    assert told.index(second) < told.index(first), "the first word stands to the right"
