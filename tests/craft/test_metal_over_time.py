"""What was held week by week: balances at the ends of days, alloys told apart, and what all that is worth."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from studio.craft.alloys import ALLOYS
from studio.craft.goods import Good
from studio.craft.ledger import Account, MetalMove, Movement, Pot
from studio.craft.metal_over_time import (
    OTHERS,
    GoodsValue,
    Valued,
    goods_value,
    held_at,
    own_by_alloy,
    stated_minor,
    told_apart,
    value_of,
)
from studio.craft.particulars import Stone
from studio.craft.rates import MetalPrice, WeightUnit

FIRST = date(2026, 11, 8)
DAYS = [FIRST + timedelta(days=7 * place) for place in range(3)]
SILVER = "silver-925"


def moved(days: int, source: Account, target: Account, mass_mg: int, owner: int | None = None) -> tuple[
    date, Movement
]:  # fmt: skip
    return FIRST + timedelta(days=days), Movement(MetalMove.ISSUED, source, target, SILVER, mass_mg, owner)


def test_a_movement_counts_from_the_end_of_its_day_and_a_customer_s_metal_in_no_sum_of_ours() -> None:
    opening = {Pot(Account.DRAWER, SILVER): 100_000, Pot(Account.DRAWER, SILVER, 7): 5_000}
    held = held_at(
        opening,
        [
            moved(14, Account.DRAWER, Account.BENCH, 1_000, 7),
            moved(7, Account.DRAWER, Account.BENCH, 5_600),
            moved(8, Account.BENCH, Account.SOLD, 5_000),
            moved(15, Account.DRAWER, Account.LOSS, 9),
            moved(0, Account.DRAWER, Account.LOSS, 77),
        ],
        DAYS,
    )
    assert [own_by_alloy(one, [Account.DRAWER]) for one in held] == [
        {SILVER: 100_000}, {SILVER: 94_400}, {SILVER: 94_400},
    ]  # fmt: skip
    assert [own_by_alloy(one) for one in held] == [{SILVER: 100_000}, {SILVER: 100_000}, {SILVER: 95_000}]


@pytest.mark.parametrize("most", [1, 3, 6])
def test_alloys_told_apart_sum_to_what_every_week_held(most: int) -> None:
    weeks = [{f"a{place}": 10 * place + week for place in range(week, 8)} for week in range(4)]
    found = told_apart(weeks, most)
    assert list(found)[:most] == [f"a{place}" for place in range(7, 7 - most, -1)]
    assert list(found)[most:] == [OTHERS]
    assert [sum(series[place] for series in found.values()) for place in range(4)] == [
        sum(week.values()) for week in weeks
    ]


def test_metal_is_worth_its_precious_parts_and_what_has_no_price_is_named() -> None:
    prices = {"silver": MetalPrice("silver", Decimal("0.95"), WeightUnit.G, FIRST, "a test")}
    held = {SILVER: 100_000, "platinum-950-ru": 5_000, "a-key-nobody-knows": 1}
    assert value_of(held, ALLOYS, prices, "GBP") == Valued(8_788, ("platinum-950-ru", "a-key-nobody-knows"))


@pytest.mark.parametrize(
    ("words", "minor"),
    [
        ("£1,200", 120_000), ("about 450.50", 45_050), ("GBP 80", 8_000), ("", None), ("not known", None),
        ("400 to 500", None), ("$500", None), ("12.345", None),
    ],
)  # fmt: skip
def test_one_amount_in_words_is_read_and_no_guess_is_made(words: str, minor: int | None) -> None:
    assert stated_minor(words, "GBP", "£") == minor


def test_goods_are_worth_what_is_stated_and_the_rest_is_counted() -> None:
    stones = [Stone(value="£400"), Stone(value="dear to her")]
    goods = [Good("2026-1-r1", place, 1, place, stone) for place, stone in enumerate(stones, 1)]
    told = goods_value([*goods, Good("2026-1-r1", 3, words="an old ring")], "GBP", "£")
    assert told == GoodsValue(40_000, 3, 2)
    declared = [replace(one, value_minor=45_000) for one in goods]
    assert goods_value(declared, "GBP", "£") == GoodsValue(90_000, 2, 0)
