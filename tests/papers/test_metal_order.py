"""The order of metal on paper: what it says to the supplier, and that no text is lost on it."""

from dataclasses import replace
from datetime import date

import pytest

from studio.papers.metal_order import OrderedThing, metal_order
from studio.papers.paper import Paper
from studio.papers.printing import printed
from tests.papers.printed import text_of
from tests.papers.quotes import WRENFOLD
from tests.papers.test_full_papers import SCRIPTS, must_be_laid_out

THINGS = (
    OrderedThing("3/1", "925 silver strip 130 × 6 × 1.5", "B&S 15", "12.12"),
    OrderedThing("3/2", "750 yellow gold half-round wire 4 × 1.7, 70 long", "B&S 14", "6.10"),
)


def an_order(supplier: str = "Rill & Daughter", things: tuple[OrderedThing, ...] = THINGS) -> Paper:
    return metal_order(
        WRENFOLD,
        number="3",
        supplier=supplier,
        ordered_on=date(2026, 11, 26),
        expected_on=date(2026, 12, 1),
        things=things,
        grams="18.22",
    )


def test_the_supplier_reads_millimetres_gauge_and_grams() -> None:
    told = text_of(printed(an_order()))
    for words in (
        "Order of metal 3", "to Rill & Daughter, 26 November 2026", "by 1 December 2026", "Wrenfold",
        "925 silver strip 130 × 6 × 1.5", "B&S 15", "12.12", "Together", "18.22",
    ):  # fmt: skip
        assert words in told


def test_an_order_that_is_called_off_asks_for_nothing() -> None:
    told = text_of(printed(an_order(things=())))
    assert "All of this order is called off." in told
    assert "Please send" not in told


@pytest.mark.parametrize("script", SCRIPTS)
def test_the_longest_texts_go_on_an_order_of_metal(script: str) -> None:
    write = SCRIPTS[script](script)
    studio = replace(WRENFOLD, name=write(120), subtitle=write(120), address=write(500), phone=write(120))
    paper = metal_order(
        studio,
        number="3",
        supplier=write(80),
        ordered_on=date(2026, 11, 26),
        expected_on=date(2026, 12, 1),
        things=THINGS * 30,
        grams="546.60",
    )
    pdf = printed(paper)
    must_be_laid_out(pdf, write(120), write(120), write(500), write(120), write(80))
