"""The API's money of an order."""

from typing import Any

import pytest

from studio.craft.roles import Role
from tests.web.asking import shown
from tests.web.house import House
from tests.web.priced import put_in_rates
from tests.web.test_api_quotes_agreement import agree, quoted


@pytest.fixture
def agreed(house: House) -> str:
    """The number of an agreed order, its deposit open."""
    put_in_rates(house)
    quote = quoted(house)
    agree(house, quote["number"])
    return str(quote["order"])


def pay(house: House, number: str, role: Role = Role.COUNTER, key: str = "", **money: Any) -> Any:
    headers = {"idempotency-key": key} if key else {}
    return house.ask("POST", f"/api/orders/{number}/payments", role, json=money, headers=headers)


def test_a_payment_is_noted_and_stands_with_the_order(house: House, agreed: str) -> None:
    answer = pay(house, agreed, amount_minor=5000, method="card", reference="slip 7")
    assert answer.status_code == 201
    told = answer.json()
    assert (told["order"], told["paid_minor"], told["back_minor"]) == (agreed, 5000, 0)
    assert told["left_minor"] == told["due_minor"] - 5000
    (line,) = told["payments"]
    assert (line["number"], line["method"], line["receipt"]) == (
        f"{agreed}-p1", "card", f"/documents/{agreed}-p1.pdf",
    )  # fmt: skip
    assert shown(house, agreed)["money"] == told


def test_the_same_key_pays_once(house: House, agreed: str) -> None:
    first = pay(house, agreed, key="one", amount_minor=100)
    assert pay(house, agreed, key="one", amount_minor=100).json() == first.json()
    assert len(shown(house, agreed)["money"]["payments"]) == 1
    assert pay(house, agreed, key="one", amount_minor=200).status_code == 409


def test_a_refund_goes_back_at_most_what_was_paid(house: House, agreed: str) -> None:
    assert pay(house, agreed, amount_minor=1, refund=True).status_code == 409
    pay(house, agreed, amount_minor=500)
    answer = pay(house, agreed, amount_minor=501, refund=True)
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, "amount_minor")
    answer = pay(house, agreed, amount_minor=200, refund=True, method="cash")
    assert answer.json()["paid_minor"] == 300


@pytest.mark.parametrize(
    ("money", "field"),
    [
        ({}, "amount_minor"),
        ({"amount_minor": 0}, "amount_minor"),
        ({"amount_minor": -5}, "amount_minor"),
        ({"amount_minor": 10**9}, "amount_minor"),
        ({"amount_minor": 1.5}, "amount_minor"),
        ({"amount_minor": 5, "method": "barter"}, "method"),
        ({"amount_minor": 5, "reference": "4111111111111111"}, "reference"),
        ({"amount_minor": 5, "reference": "x" * 101}, "reference"),
        ({"amount_minor": 5, "on": "2099-01-01"}, "on"),
        ({"amount_minor": 5, "on": "soon"}, "on"),
        ({"amount_minor": 5, "card": "4111"}, "card"),
    ],
)
def test_what_cannot_be_is_told_by_its_field(
    house: House, agreed: str, money: dict[str, Any], field: str
) -> None:
    answer = pay(house, agreed, **money)
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, field)


def test_makers_neither_pay_nor_see_it(house: House, agreed: str) -> None:
    assert pay(house, agreed, Role.MAKER, amount_minor=5).status_code == 403
    pay(house, agreed, amount_minor=5)
    assert shown(house, agreed, Role.MAKER)["money"] is None


def test_an_entry_made_by_mistake_is_taken_back(house: House, agreed: str) -> None:
    pay(house, agreed, amount_minor=500)
    path = f"/api/payments/{agreed}-p1/undoing"
    assert house.ask("POST", path, Role.COUNTER, json={}).status_code == 422
    told = house.ask("POST", path, Role.COUNTER, json={"why": "of another order"}).json()
    assert (told["paid_minor"], told["payments"][0]["undone_by"]) == (0, f"{agreed}-p2")
    assert house.ask("POST", path, Role.COUNTER, json={"why": "again"}).status_code == 409
    missing = house.ask("POST", "/api/payments/2026-99-p1/undoing", Role.COUNTER, json={"why": "never"})
    assert missing.status_code == 404


def test_a_receipt_for_money_is_not_made_by_asking(house: House, agreed: str) -> None:
    answer = house.ask("POST", f"/api/orders/{agreed}/documents", Role.COUNTER, json={"kind": "payment"})
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, "kind")


def test_the_yes_says_how_its_deposit_came(house: House) -> None:
    put_in_rates(house)
    quote = quoted(house)
    agree(
        house, quote["number"], deposit_minor=100, deposit_method="bank transfer", deposit_reference="HB 12"
    )
    (line,) = shown(house, quote["order"])["money"]["payments"]
    assert (line["amount_minor"], line["method"], line["reference"]) == (100, "bank transfer", "HB 12")
