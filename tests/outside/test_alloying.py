"""What goes into the crucible, against published worked examples and the law that fineness is a minimum."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.alloying import AlloyingRefused, lowered, melt, of_carat, raised

# UK page "Gold alloys - what is a carat" and the page "Gold alloys" for instrument makers print recipes by
# mass: 18 carat is 75 parts gold in 100, 22 carat 91.7, 9 carat 37.5. Gold and the rest of 100 g of each.
RECIPES = ((750, "75", "25"), (917, "91.7", "8.3"), (375, "37.5", "62.5"), (585, "58.5", "41.5"))


@pytest.mark.parametrize(("fineness", "gold", "rest"), RECIPES)
def test_a_hundred_grams_agree_with_the_published_recipes(fineness: int, gold: str, rest: str) -> None:
    found = melt(Decimal(fineness), Decimal(100))
    assert (found.fine_g, found.other_g) == (Decimal(gold), Decimal(rest))


def test_carats_are_twenty_fourths() -> None:
    # the same page: 24 carat is fine gold, 18 carat 18 parts of 24
    assert [of_carat(Decimal(carat)) for carat in (18, 22, 14, 9)] == [
        Decimal(750),
        Decimal("916.7"),
        Decimal("583.3"),
        Decimal(375),
    ]


def test_the_worked_melts_of_the_docstrings() -> None:
    assert melt(Decimal(750), Decimal(20)).fine_g == 15
    assert raised(Decimal(750), Decimal(30), Decimal(585)).fine_g == Decimal("19.80")
    down = lowered(Decimal(585), Decimal(10), Decimal(1000))
    assert down.other_g == Decimal("7.09")
    assert round(down.fineness, 1) == Decimal("585.1")


@given(
    wanted=st.integers(2, 998),
    gap=st.integers(1, 500),
    low=st.integers(0, 500),
    mass=st.integers(1, 50_000),
)
def test_no_melt_is_ever_below_the_wanted_fineness(wanted: int, gap: int, low: int, mass: int) -> None:
    # ISO 9202: a fineness is a minimum, without any minus tolerance
    fine, other = Decimal(min(1000, wanted + gap)), Decimal(max(0, wanted - 1 - low))
    aim, grams = Decimal(wanted), Decimal(mass) / 100
    for found in (
        melt(aim, grams, fine, other),
        raised(aim, grams, other, fine),
        lowered(aim, grams, fine, other),
    ):
        assert found.fineness >= aim
        assert found.total_g >= grams


@pytest.mark.parametrize(("wanted", "scrap", "fine"), [(750, 750, 1000), (585, 750, 1000), (999, 585, 990)])
def test_what_no_mixture_gives_is_refused(wanted: int, scrap: int, fine: int) -> None:
    with pytest.raises(AlloyingRefused):
        raised(Decimal(wanted), Decimal(10), Decimal(scrap), Decimal(fine))


def test_nothing_is_no_melt() -> None:
    with pytest.raises(AlloyingRefused):
        melt(Decimal(750), Decimal(0))
