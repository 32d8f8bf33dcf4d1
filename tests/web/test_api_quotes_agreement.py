"""The yes to a quote over the API, and its deposit."""

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any

import pytest

from studio.craft.roles import Role
from tests.web.asking import change, move, shown
from tests.web.house import House, a_ring
from tests.web.priced import RATES, ask_for_quote, put_in_rates


@pytest.fixture
def priced(house: House) -> House:
    put_in_rates(house)
    return house


def quoted(house: House, **changes: Any) -> dict[str, Any]:
    """A fresh order with its quote."""
    number = house.take_order(**changes)
    told: dict[str, Any] = ask_for_quote(house, number).json()
    return told | {"order": number}


def agree(house: House, quote: str, role: Role = Role.OWNER, key: str = "", **said: Any) -> Any:
    said.setdefault("name", "Ottilie Marchbanks")
    headers = {"idempotency-key": key} if key else {}
    return house.ask("POST", f"/api/quotes/{quote}/agreement", role, json=said, headers=headers)


def test_a_yes_with_its_deposit_makes_the_order_ready_for_the_bench(priced: House) -> None:
    quote = quoted(priced, bench_on="2027-03-01")
    answer = agree(priced, quote["number"], Role.COUNTER, deposit_minor=quote["deposit_minor"])
    assert (answer.status_code, answer.json()) == (201, {"order": quote["order"], "state": "agreed"})
    order = shown(priced, quote["order"])
    assert (order["agreed_name"], order["missing"]["bench"]) == ("Ottilie Marchbanks", [])
    assert order["quotes"][0]["state"] == "agreed"
    assert move(priced, quote["order"], "at the bench").status_code == 200


def test_with_neither_deposit_nor_reason_the_bench_waits(priced: House) -> None:
    quote = quoted(priced, bench_on="2027-03-01")
    assert agree(priced, quote["number"]).status_code == 201
    assert shown(priced, quote["order"])["missing"]["bench"] == ["deposit"]
    answer = move(priced, quote["order"], "at the bench")
    assert (answer.status_code, answer.json()["errors"][0]["message"]) == (
        409, "The order waits for: deposit, or a reason to begin without.",
    )  # fmt: skip


@pytest.mark.parametrize("role", [Role.OWNER, Role.COUNTER])
def test_a_reason_with_the_move_does_instead_of_the_open_deposit(priced: House, role: Role) -> None:
    quote = quoted(priced, bench_on="2027-03-01")
    agree(priced, quote["number"])
    assert move(priced, quote["order"], "at the bench", Role.MAKER, reason="a friend").status_code == 409
    answer = move(priced, quote["order"], "at the bench", role, reason="regular customer")
    assert (answer.status_code, answer.json()["state"]) == (200, "at the bench")


def test_a_part_paid_leaves_the_deposit_open_unless_there_is_a_reason_too(priced: House) -> None:
    part, both = (quoted(priced, bench_on="2027-03-01") for _ in range(2))
    agree(priced, part["number"], deposit_minor=100)
    agree(priced, both["number"], deposit_minor=100, without_deposit="the rest on Friday")
    assert shown(priced, part["order"])["missing"]["bench"] == ["deposit"]
    assert shown(priced, both["order"])["missing"]["bench"] == []


def test_a_reason_does_instead_of_a_deposit(priced: House) -> None:
    quote = quoted(priced, bench_on="2027-03-01")
    agree(priced, quote["number"], without_deposit="an old customer")
    assert move(priced, quote["order"], "at the bench").status_code == 200


def test_a_superseded_quote_is_a_conflict_that_names_the_one_that_stands(priced: House) -> None:
    first = quoted(priced)
    second = ask_for_quote(priced, first["order"]).json()
    answer = agree(priced, first["number"])
    assert answer.status_code == 409
    message = f"This quote no longer stands. {second['number']} stands in its place."
    assert answer.json()["errors"] == [{"field": None, "message": message}]
    assert answer.json()["current"] == {
        "number": first["order"], "state": "quoted", "version": 3,
        "quote": {"number": second["number"], "state": "open", "valid_until": second["valid_until"]},
    }  # fmt: skip
    change(priced, first["order"], rings=[a_ring(width=5)])
    void = agree(priced, second["number"])
    assert (void.status_code, void.json()["current"]["quote"]) == (409, None)
    assert "The order changed under it." in void.json()["errors"][0]["message"]


def test_a_quote_is_agreed_once(priced: House) -> None:
    quote = quoted(priced)
    agree(priced, quote["number"])
    answer = agree(priced, quote["number"], name="Somebody else")
    assert (answer.status_code, answer.json()["current"]["state"]) == (409, "agreed")
    assert shown(priced, quote["order"])["agreed_name"] == "Ottilie Marchbanks"


@pytest.mark.parametrize(
    ("issued", "last_moment", "too_late"),
    [
        # Good for 14 days, to the end of the day in London: in winter, over the change of the clocks in
        # March and in October, and over the end of the year.
        ("2026-11-25T10:00Z", "2026-12-09T23:59Z", "2026-12-10T00:00Z"),
        ("2027-03-20T10:00Z", "2027-04-03T22:59Z", "2027-04-03T23:00Z"),
        ("2027-10-20T10:00Z", "2027-11-03T23:59Z", "2027-11-04T00:00Z"),
        ("2026-12-20T23:00Z", "2027-01-03T23:59Z", "2027-01-04T00:00Z"),
    ],
)
def test_a_quote_is_good_to_the_end_of_its_day_in_the_studio(
    house: House,
    monkeypatch: pytest.MonkeyPatch,
    issued: str,
    last_moment: str,
    too_late: str,
) -> None:
    def turn_to(moment: str) -> None:
        now = datetime.fromisoformat(moment)
        monkeypatch.setattr("studio.clock.now", lambda: now)

    turn_to(issued)
    put_in_rates(house)
    early, late = quoted(house), quoted(house)
    turn_to(last_moment)
    assert shown(house, early["order"])["quotes"][0]["state"] == "open"
    assert agree(house, early["number"]).status_code == 201
    turn_to(too_late)
    assert shown(house, late["order"])["quotes"][0]["state"] == "expired"
    answer = agree(house, late["number"])
    assert answer.status_code == 409
    assert "was good until" in answer.json()["errors"][0]["message"]
    assert answer.json()["current"]["quote"]["valid_until"] == late["valid_until"]
    assert agree(house, late["number"], reason="said yes by telephone in time").status_code == 201


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"name": " "}, "name"),
        ({"deposit_minor": -1}, "deposit_minor"),
        ({"deposit_minor": 12.5}, "deposit_minor"),
        ({"deposit_minor": "120"}, "deposit_minor"),
        ({"deposit_minor": 900_000_000}, "deposit_minor"),
        ({"deposit_minor": 0}, "deposit_minor"),
        ({"reason": "r" * 501}, "reason"),
        ({"paid": 5}, "paid"),
    ],
)
def test_what_is_wrong_with_a_yes_is_said_at_its_field(
    priced: House, said: dict[str, Any], field: str
) -> None:
    quote = quoted(priced)
    answer = agree(priced, quote["number"], **said)
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, field)
    assert shown(priced, quote["order"])["state"] == "quoted"


def test_an_unknown_quote_is_not_found(priced: House) -> None:
    answer = agree(priced, "2026-7-q1")
    assert answer.json() == {"errors": [{"field": None, "message": "There is no quote 2026-7-q1."}]}
    assert answer.status_code == 404


def test_the_same_key_notes_one_yes(priced: House) -> None:
    quote = quoted(priced)
    first, second = (agree(priced, quote["number"], key="y-1") for _ in range(2))
    assert (first.status_code, first.content) == (201, second.content)
    assert agree(priced, quote["number"], key="y-1", name="Other").status_code == 409


def test_a_maker_notes_no_yes(priced: House) -> None:
    assert agree(priced, quoted(priced)["number"], Role.MAKER).status_code == 403


def test_a_studio_without_deposits_waits_for_none(house: House) -> None:
    put_in_rates(house, replace(RATES, deposit_percent=Decimal(0)))
    quote = quoted(house, bench_on="2027-03-01")
    assert quote["deposit_minor"] == 0
    agree(house, quote["number"])
    assert shown(house, quote["order"])["missing"]["bench"] == []
