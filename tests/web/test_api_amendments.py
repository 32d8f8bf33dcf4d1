"""Programs amend agreed orders and withdraw what nobody said yes to."""

import pytest

from studio.craft.roles import Role
from tests.web.asking import an_agreed_order, move, shown
from tests.web.house import House
from tests.web.house import a_ring as a_told_ring


def test_programs_amend_and_withdraw(house: House) -> None:
    number = an_agreed_order(house)
    path = f"/api/orders/{number}/amendments"
    told = house.ask("POST", path, Role.COUNTER, json={"rings": [a_told_ring(width=5)], "words": "Narrower."})
    assert told.status_code == 201, told.text
    made_one = told.json()
    assert (made_one["number"], made_one["kind"], made_one["pdf"]) == (
        f"{number}-a1",
        "amendment",
        f"/quotes/{number}-a1.pdf",
    )
    assert [(one["number"], one["state"]) for one in shown(house, number)["quotes"]] == [
        (f"{number}-q1", "agreed"),
        (f"{number}-a1", "open"),
    ]
    waits = move(house, number, "at the bench")
    assert waits.status_code == 409
    gone = house.ask("POST", f"/api/quotes/{number}-a1/withdrawal", Role.COUNTER)
    assert (gone.status_code, gone.json()["state"]) == (200, "agreed")
    second = house.ask("POST", path, json={"charge_text": "The blank", "charge_minor": 2600})
    assert second.status_code == 201, second.text
    yes = house.ask("POST", f"/api/quotes/{number}-a2/agreement", json={"name": "Ottilie"})
    assert yes.status_code == 201, yes.text
    assert yes.json() == {"order": number, "state": "agreed"}


@pytest.mark.parametrize(
    ("body", "status", "field"),
    [
        ({}, 409, None),
        ({"charge_minor": 100}, 422, "charge_text"),
        ({"minutes": {"2026-9/1": 5}}, 422, "minutes.2026-9/1"),
        ({"valid_days": 0, "words": "x"}, 422, "valid_days"),
        ({"rings": []}, 422, "rings"),
        ({"rings": [a_told_ring(width="four")]}, 422, "rings.0.width"),
        ({"bench_on": "2026-12-01"}, 422, "bench_on"),
    ],
)
def test_what_cannot_stand_in_an_amendment_is_told(
    house: House, body: dict[str, object], status: int, field: str | None
) -> None:
    number = an_agreed_order(house)
    answer = house.ask("POST", f"/api/orders/{number}/amendments", json=body)
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (status, field), answer.text


def test_minutes_are_typed_for_a_ring_that_is_added_too(house: House) -> None:
    number = an_agreed_order(house)
    body = {"rings": [a_told_ring(), a_told_ring(width=5)], "minutes": {f"{number}/2": 150}}
    answer = house.ask("POST", f"/api/orders/{number}/amendments", json=body)
    assert answer.status_code == 201, answer.text
    body["minutes"] = {f"{number}/3": 150}
    answer = house.ask("POST", f"/api/orders/{number}/amendments", json=body)
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, f"minutes.{number}/3")


def test_an_order_that_is_not_agreed_is_not_amended(house: House) -> None:
    number = house.take_order()
    answer = house.ask("POST", f"/api/orders/{number}/amendments", json={"words": "x"})
    assert answer.status_code == 409
    assert "Nobody has said yes to a quote" in answer.text
