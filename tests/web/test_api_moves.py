"""Moves of an order over the API, and who may make them."""

import pytest

from studio.craft.orders import State
from studio.craft.roles import Role
from tests.web.asking import an_agreed_order, change, move, shown
from tests.web.house import House, a_ring
from tests.web.priced import say_yes


def test_an_order_becomes_agreed_by_the_yes_to_its_quote_alone(house: House) -> None:
    number = house.take_order()
    answer = move(house, number, "agreed", Role.COUNTER, reason="by telephone")
    assert (answer.status_code, answer.json()["current"]["state"]) == (409, "draft")
    assert answer.json()["errors"][0]["message"] == "An order becomes agreed by the yes to its quote."
    say_yes(house, number)
    assert shown(house, number)["state"] == "agreed"


def test_an_order_goes_all_the_way_and_back_again(house: House) -> None:
    number = an_agreed_order(house, bench_on="2027-03-01")
    steps = ["at the bench", "ready", "handed over", "ready", "at the bench", "agreed", "called off", "draft"]
    for step in steps:
        answer = move(house, number, step, reason="so it was")
        assert (answer.status_code, answer.json()["state"]) == (200, step)


def test_the_bench_waits_for_its_date_and_says_so(house: House) -> None:
    number = an_agreed_order(house)
    answer = move(house, number, "at the bench")
    assert answer.status_code == 409
    assert answer.json()["errors"][0]["message"] == "The order waits for: bench date."
    assert answer.json()["current"] == {"number": number, "state": "agreed", "version": 3}


def test_a_warning_that_asks_for_a_reason_holds_up_the_bench_until_it_has_one(house: House) -> None:
    narrow = a_ring(finger={"gauge_width_mm": 2.5})
    number = house.take_order(rings=[narrow], bench_on="2027-03-01")
    assert shown(house, number)["missing"]["bench"] == ["deposit", "reason for narrow gauge on ring 1"]
    change(
        house, number, rings=[narrow | {"reasons": {"narrow-gauge": "the wide set is at the assay office"}}]
    )
    assert shown(house, number)["missing"]["bench"] == ["deposit"]


@pytest.mark.parametrize(("start", "to"), [("draft", "ready"), ("draft", "handed over"), ("draft", "draft")])
def test_a_move_that_is_no_move_is_a_conflict(house: House, start: str, to: str) -> None:
    number = house.take_order()
    answer = move(house, number, to)
    assert answer.status_code == 409
    assert answer.json()["current"]["state"] == start


def test_calling_off_asks_for_a_reason(house: House) -> None:
    number = house.take_order()
    answer = move(house, number, "called off")
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, "reason")
    assert move(house, number, "called off", reason="moved abroad").status_code == 200


WAYS = {
    ("draft", "called off"): {Role.OWNER, Role.COUNTER},
    ("agreed", "at the bench"): set(Role),
    ("at the bench", "ready"): set(Role),
    ("at the bench", "agreed"): set(Role),
    ("ready", "handed over"): {Role.OWNER, Role.COUNTER},
    ("handed over", "ready"): {Role.OWNER, Role.COUNTER},
    ("called off", "draft"): {Role.OWNER, Role.COUNTER},
}


@pytest.mark.parametrize("role", list(Role))
@pytest.mark.parametrize(("start", "to"), WAYS)
def test_each_move_takes_the_right_of_its_own(house: House, start: str, to: str, role: Role) -> None:
    number = house.take_order(bench_on="2027-03-01")
    on_the_way = [State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER]
    way = on_the_way[: on_the_way.index(State(start)) + 1] if start in on_the_way else [start]
    if start in on_the_way:
        say_yes(house, number)
        way = way[1:]
    for step in way if start != "draft" else []:
        assert move(house, number, step, reason="so it was").status_code == 200
    answer = move(house, number, to, role, reason="so it was")
    assert answer.status_code == (200 if role in WAYS[start, to] else 403)
