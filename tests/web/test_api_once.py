"""What is sent twice under one idempotency key is done once."""

import asyncio
from typing import Any

import httpx
import pytest

from studio.craft.roles import Role
from tests.web.house import House, a_ring, an_order


def post(
    house: House, key: str, role: Role = Role.OWNER, path: str = "/api/orders", **body: Any
) -> httpx.Response:
    return house.ask("POST", path, role, json=body or an_order(), headers={"idempotency-key": key})


def count(house: House) -> int:
    return len(house.ask("GET", "/api/orders", params={"limit": 200}).json()["items"])


def test_the_same_key_and_body_gives_the_same_answer_and_one_order(house: House) -> None:
    first, second = post(house, "k-1"), post(house, "k-1")
    assert first.status_code == second.status_code == 201
    assert first.content == second.content
    assert first.headers["location"] == second.headers["location"]
    assert count(house) == 1


def test_the_same_body_with_its_fields_in_another_order_is_the_same(house: House) -> None:
    post(house, "k-1", **an_order())
    again = post(house, "k-1", **dict(reversed(an_order().items())))
    assert again.status_code == 201
    assert count(house) == 1


def test_the_same_key_with_another_body_is_a_conflict(house: House) -> None:
    post(house, "k-1")
    other = post(house, "k-1", **an_order(note="another"))
    assert other.status_code == 409
    assert "used before" in other.json()["errors"][0]["message"]
    assert count(house) == 1


def test_the_same_key_on_another_address_is_a_conflict(house: House) -> None:
    number = post(house, "k-1").json()["number"]
    moved = post(house, "k-1", path=f"/api/orders/{number}/moves", to="called off", version=1)
    assert moved.status_code == 409


def test_another_person_may_use_the_same_key(house: House) -> None:
    post(house, "k-1")
    assert post(house, "k-1", Role.COUNTER).status_code == 201
    assert count(house) == 2


def test_a_repeated_move_is_made_once(house: House) -> None:
    number = house.take_order()
    body: dict[str, Any] = {"to": "called off", "version": 1, "reason": "moved abroad"}
    answers = [post(house, "m-1", path=f"/api/orders/{number}/moves", **body) for _ in range(2)]
    assert [answer.json() for answer in answers] == [{"state": "called off", "version": 2}] * 2


def test_a_reckoning_takes_a_key_too(house: House) -> None:
    first = post(house, "r-1", Role.MAKER, "/api/reckonings", **a_ring())
    assert first.status_code == 200
    assert post(house, "r-1", Role.MAKER, "/api/reckonings", **a_ring()).content == first.content
    assert post(house, "r-1", Role.MAKER, "/api/reckonings", **a_ring(width=5)).status_code == 409


def test_a_request_that_was_refused_leaves_its_key_free(house: House) -> None:
    assert post(house, "k-1", **an_order(rings=[])).status_code == 422
    number = house.take_order()
    assert post(house, "k-2", path=f"/api/orders/{number}/moves", to="ready", version=1).status_code == 409
    assert post(house, "k-1").status_code == 201
    assert post(house, "k-2").status_code == 201


@pytest.mark.parametrize("key", ["", " ", "a b", "x" * 65, "tab\tinside"])
def test_a_key_that_is_none_is_told_so(house: House, key: str) -> None:
    answer = post(house, key)
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "Idempotency-Key"
    assert count(house) == 0


@pytest.mark.parametrize("key", ["x", "~" * 64, "3f6c-91/+=!"])
def test_any_visible_characters_make_a_key(house: House, key: str) -> None:
    assert post(house, key).status_code == 201


def test_twenty_presses_at_once_take_one_order(house: House) -> None:
    async def all_at_once() -> list[httpx.Response]:
        headers = {"authorization": f"Bearer {house.tokens[Role.OWNER]}", "idempotency-key": "pressed"}
        one = an_order()
        return await asyncio.gather(
            *(house.sends("POST", "/api/orders", json=one, headers=headers) for _ in range(20))
        )

    answers = asyncio.run(all_at_once())
    assert {answer.status_code for answer in answers} == {201}
    assert len({answer.content for answer in answers}) == 1
    assert count(house) == 1
