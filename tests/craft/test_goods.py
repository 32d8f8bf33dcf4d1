"""Goods of the customer's: what is held is what was taken in and not given back."""

from dataclasses import replace

import pytest

from studio.craft.errors import Refused, Why
from studio.craft.goods import GivenBack, Good, held, is_held, weight_words
from studio.craft.particulars import Risk, Setting, Stone, Whose
from studio.craft.units import METRIC_CARAT_G, read_mass

SAPPHIRES = Stone(2, Whose.CUSTOMER, "round", "3 mm", stated="sapphire", risk=Risk.CUSTOMER)
TAKEN_IN = (
    Good("2026-1-r1", 1, 1, 1, SAPPHIRES),
    Good("2026-1-r1", 2, words="an old ring", weight_mg=2_140),
    Good("2026-1-r2", 1, words="a case"),
)


def test_what_is_held_is_what_was_taken_in_and_not_given_back() -> None:
    assert held(TAKEN_IN, ()) == TAKEN_IN
    assert held(TAKEN_IN, [GivenBack(TAKEN_IN[1], 2_100)]) == (TAKEN_IN[0], TAKEN_IN[2])
    assert held(TAKEN_IN, map(GivenBack, TAKEN_IN)) == ()


def test_the_same_line_of_another_receipt_is_another_thing() -> None:
    assert held(TAKEN_IN, [GivenBack(TAKEN_IN[2])]) == TAKEN_IN[:2]


@pytest.mark.parametrize(
    ("change", "is_the_same"),
    [
        ({}, True),
        ({"tested": "glass", "condition": "a chip", "setting": Setting.BEZEL, "risk": Risk.STUDIO}, True),
        ({"value": "£10"}, True),
        ({"count": 1}, False),
        ({"size": "4 mm"}, False),
        ({"stated": "ruby"}, False),
    ],
)
def test_what_is_found_of_a_stone_later_makes_no_other_stone_of_it(
    change: dict[str, object], *, is_the_same: bool
) -> None:
    stone = replace(SAPPHIRES, **change)  # type: ignore[arg-type]  # a table of changes of several kinds
    assert is_held(1, 1, stone, TAKEN_IN) is is_the_same
    assert not is_held(2, 1, stone, TAKEN_IN)


def test_a_line_says_what_it_is_and_never_what_it_is_worth() -> None:
    good = replace(TAKEN_IN[0], stone=replace(SAPPHIRES, value="£400"))
    assert good.line == ("for ring 1: 2 round, 3 mm, said to be sapphire, the customer's, at their risk")
    assert TAKEN_IN[1].line == "an old ring, 2.14 g"
    assert TAKEN_IN[1].key == "2026-1-r1/2"


@pytest.mark.parametrize(
    ("typed", "g"),
    [
        ("4.2", 4.2), ("4,2 g", 4.2), (4.2, 4.2), ("850 mg", 0.85), ("1.5 ct", 1.5 * METRIC_CARAT_G),
        ("2 dwt", 2 * 1.55517384), ("1/4 ozt", 31.1034768 / 4), ("0.3 kg", 300.0), ("12 gr", 12 * 0.06479891),
    ],
)  # fmt: skip
def test_a_weight_is_read_in_the_units_of_the_trade(typed: str | float, g: float) -> None:
    assert read_mass(typed, "weight_g", low_g=0.001, high_g=10_000) == pytest.approx(g, rel=1e-12)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("heavy", Why.NOT_A_NUMBER),
        ("1 oz", Why.UNKNOWN_UNIT),  # troy or avoirdupois?
        ("3 mm", Why.UNKNOWN_UNIT),
        ("1,234", Why.AMBIGUOUS_COMMA),
        ("0", Why.NOT_ABOVE_ZERO),
        ("11 kg", Why.TOO_LARGE),
        ("0.0001", Why.TOO_SMALL),
        ("", Why.EMPTY),
        (float("nan"), Why.NOT_A_NUMBER),
    ],
)
def test_what_is_no_weight_is_refused(typed: str | float, why: Why) -> None:
    with pytest.raises(Refused) as told:
        read_mass(typed, "weight_g", low_g=0.001, high_g=10_000)
    assert [(one.field, one.why) for one in told.value.refusals] == [("weight_g", why)]


def test_weights_are_told_to_the_milligram_without_idle_noughts() -> None:
    assert [weight_words(mg) for mg in (2_140, 2_000, 1)] == ["2.14 g", "2 g", "0.001 g"]
