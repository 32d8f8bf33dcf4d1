"""Cutting plans over the API: the contract, what is refused, and that the search is bounded and outside."""

import asyncio
import time
from typing import Any

import httpx
import pytest

from studio.craft.cutting import Blank, Plan, Stock, first_fit
from studio.craft.roles import Role
from studio.web.planner import Limits, Planner, PlanTask
from tests.cutting import check
from tests.web.house import House

STOCK = [
    {"id": "S-1", "length": 198, "width": "24 mm"},
    {"id": "S-2", "length": 60, "width": 8, "offcut": True},
]
BLANKS = [
    {"id": "2026-1/1", "length": "62.4 mm", "width": 6},
    {"id": "2026-2/1", "length": 58.2, "width": 8},
    {"id": "2026-3/1", "length": 56, "width": 4, "count": 2},
]


def asked(house: House, role: Role = Role.MAKER, key: str = "", **changes: Any) -> httpx.Response:
    body = {"kerf": "0.31 mm", "stock": STOCK, "blanks": BLANKS} | changes
    headers = {"idempotency-key": key} if key else {}
    return house.ask("POST", "/api/cutting-plans", role, json=body, headers=headers)


def test_a_plan_tells_each_blank_once_and_what_is_left(house: House) -> None:
    told = asked(house).json()
    assert set(told) == {
        "pieces", "unplaced", "opened_area_mm2", "bound_area_mm2", "proved", "seconds",
    }  # fmt: skip
    cut = [one["blank"] for piece in told["pieces"] for strip in piece["strips"] for one in strip["cuts"]]
    assert sorted(cut) == ["2026-1/1", "2026-2/1", "2026-3/1", "2026-3/1"]
    assert told["unplaced"] == []
    # the offcut of 60 x 8 takes the 58.2 x 8 only if less is opened so: it is not, 198 x 24 holds all
    assert [piece["stock"] for piece in told["pieces"]] == ["S-1"]
    assert (told["opened_area_mm2"], told["bound_area_mm2"], told["proved"]) == (4752, 4752, True)


def test_five_blanks_on_three_pieces_are_proved(house: House) -> None:
    stock = [{"id": f"S-{n}", "length": 70 + 10 * n, "width": 6 + 2 * n} for n in (1, 2, 3)]
    blanks = [{"id": f"2026-{n}/1", "length": 50 + 3 * n, "width": 4 + n % 3} for n in range(5)]
    assert asked(house, stock=stock, blanks=blanks).json()["proved"] is True


def test_what_is_in_no_piece_says_why(house: House) -> None:
    blanks = [
        {"id": "long", "length": 500, "width": 6},
        {"id": "wide", "length": 20, "width": 40},
        {"id": "large", "length": 190, "width": 30},
    ]
    stock = [{"id": "a", "length": 200, "width": 10}, {"id": "b", "length": 50, "width": 35}]
    told = asked(house, stock=stock, blanks=blanks).json()
    assert {one["blank"]: one["why"] for one in told["unplaced"]} == {
        "long": "too long", "wide": "too wide", "large": "too large",
    }  # fmt: skip
    assert told["pieces"] == []


def test_nothing_at_hand_places_nothing_and_nothing_asked_opens_nothing(house: House) -> None:
    assert [one["why"] for one in asked(house, stock=[]).json()["unplaced"]] == ["no stock"] * 4
    empty = asked(house, blanks=[]).json()
    assert (empty["pieces"], empty["opened_area_mm2"], empty["proved"]) == ([], 0, True)


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"kerf": None}, "kerf"),
        ({"kerf": "-1"}, "kerf"),
        ({"stock": None}, "stock"),
        ({"blanks": "all of them"}, "blanks"),
        ({"stock": [{"id": "a", "length": 0, "width": 5}]}, "stock.0.length"),
        ({"stock": [{"id": "a", "length": 5}]}, "stock.0.width"),
        ({"stock": [{"length": 5, "width": 5}]}, "stock.0.id"),
        ({"stock": [STOCK[0], STOCK[0]]}, "stock.1.id"),
        ({"blanks": [{"id": "a", "length": 5, "width": 5, "count": 0}]}, "blanks.0.count"),
        ({"blanks": [{"id": "a", "length": 5, "width": 5, "count": 1.5}]}, "blanks.0.count"),
        ({"blanks": [{"id": "a", "length": 5, "width": 5, "count": 2001}]}, "blanks.0.count"),
        ({"blanks": [{"id": str(n), "length": 5, "width": 5, "count": 1500} for n in (1, 2)]}, "blanks"),
        ({"blanks": [{"id": "a", "length": 5, "width": 5, "colour": "red"}]}, "blanks.0.colour"),
    ],
)
def test_what_cannot_be_planned_is_put_right(house: House, changes: dict[str, Any], field: str) -> None:
    answer = asked(house, **changes)
    assert answer.status_code == 422, answer.text
    assert field in {error["field"] for error in answer.json()["errors"]}


def test_the_same_key_gets_the_same_answer(house: House) -> None:
    first = asked(house, key="a-key")
    assert asked(house, key="a-key").content == first.content
    assert asked(house, key="a-key", kerf=0).status_code == 409


def test_a_search_that_ends_before_its_time_leaves_the_best_plan_until_then() -> None:
    stock = (Stock("S-1", 198_000, 24_000, count=9),)
    blanks = tuple(Blank(str(n), 50_000 + 137 * n, 4_000 + 500 * (n % 6)) for n in range(60))
    task = PlanTask(stock, blanks, 310)
    told: list[Plan] = []
    started = time.monotonic()
    found = asyncio.run(Planner(Limits(search_s=1.0, grace_s=1.0)).plan(task, told.append))
    assert time.monotonic() - started < 4
    assert found == told[-1]
    check(found, stock, blanks, 310)
    assert found.opened_area_um2 <= first_fit(stock, blanks, 310).opened_area_um2


def test_without_memory_for_a_search_first_fit_stands() -> None:
    task = PlanTask((Stock("S-1", 100_000, 10_000),), (Blank("a", 50_000, 5_000),), 310)
    found = asyncio.run(Planner(Limits(search_s=1.0, memory_bytes=20_000_000)).plan(task))
    assert found == first_fit(task.stock, task.blanks, task.kerf_um)


def test_a_plan_that_nobody_waits_for_any_more_ends_at_once() -> None:
    blanks = tuple(Blank(str(n), 50_000 + 137 * n, 4_000 + 511 * (n % 9)) for n in range(300))
    task = PlanTask((Stock("S-1", 198_000, 24_000, count=90),), blanks, 310)

    async def left() -> float:
        planning = asyncio.ensure_future(Planner().plan(task))
        await asyncio.sleep(1.0)
        planning.cancel()
        started = time.monotonic()
        await asyncio.wait({planning})
        assert planning.cancelled()
        return time.monotonic() - started

    assert asyncio.run(left()) < 1.0
