"""The documents of an order for programs."""

import hashlib
from typing import Any

import pytest

from studio.craft.roles import Role
from tests.papers.printed import text_of
from tests.web.asking import an_agreed_order, shown
from tests.web.house import House, a_ring
from tests.web.priced import say_yes

HERS = {
    "count": 1,
    "whose": "customer",
    "shape": "oval",
    "stated": "sapphire",
    "value": "£400",
    "risk": "customer",
}


def ask_for(house: House, number: str, role: Role = Role.COUNTER, key: str = "", **body: Any) -> Any:
    headers = {"idempotency-key": key} if key else {}
    return house.ask("POST", f"/api/orders/{number}/documents", role, json=body, headers=headers)


def with_stones(house: House, *stones: dict[str, Any]) -> str:
    return house.take_order(rings=[a_ring(stones=list(stones))])


def test_a_program_makes_the_confirmation_of_an_agreed_order(house: House) -> None:
    number = an_agreed_order(house)
    told = ask_for(house, number, kind="confirmation")
    assert told.status_code == 201, told.text
    made = told.json()
    assert (made["number"], made["kind"], made["pdf"]) == (
        f"{number}-c1", "confirmation", f"/documents/{number}-c1.pdf",
    )  # fmt: skip
    assert told.headers["location"] == made["pdf"]
    paper = house.ask("GET", made["pdf"], Role.OWNER).content
    assert hashlib.sha256(paper).hexdigest() == made["sha256"]
    assert f"Order confirmation {number}-c1" in text_of(paper)
    assert shown(house, number)["documents"] == [made]
    assert shown(house, number, Role.MAKER)["documents"] == []


def test_one_key_makes_one_document(house: House) -> None:
    number = an_agreed_order(house)
    first, second = (ask_for(house, number, key="once", kind="confirmation") for _ in range(2))
    assert first.json() == second.json()
    assert ask_for(house, number, key="once", kind="return").status_code == 409
    assert len(shown(house, number)["documents"]) == 1


def test_goods_are_taken_in_and_given_back(house: House) -> None:
    number = with_stones(house, HERS)
    taken = ask_for(house, number, kind="receipt", goods="An old ring", weight_g="2.14 g", bag="A-17")
    assert (taken.status_code, taken.json()["number"]) == (201, f"{number}-r1")
    line = {"line": f"{number}-r1/2", "weight_g": 1.98}
    back = ask_for(house, number, kind="return", goods=[line], note="Assayed.")
    assert (back.status_code, back.json()["number"]) == (201, f"{number}-b1")
    paper = text_of(house.ask("GET", back.json()["pdf"]).content)
    assert "2.14 g 1.98 g" in paper
    assert "Still with us 1 oval stone, said to be sapphire" in paper
    assert ask_for(house, number, kind="return").status_code == 201
    over = ask_for(house, number, kind="return")
    assert over.status_code == 409
    assert over.json()["errors"][0]["message"] == f"Nothing of the customer's is held for {number}."


def test_stones_are_named_by_their_places(house: House) -> None:
    number = with_stones(house, HERS, HERS | {"stated": "opal"})
    told = ask_for(house, number, kind="receipt", stones=["1/2"])
    assert told.status_code == 201, told.text
    words = text_of(house.ask("GET", told.json()["pdf"]).content)
    assert "opal" in words
    assert "sapphire" not in words


def test_a_risk_that_is_not_answered_is_told(house: House) -> None:
    number = with_stones(house, HERS | {"risk": None})
    told = ask_for(house, number, kind="receipt")
    assert told.status_code == 409
    assert "Say first who bears the risk of setting these stones" in told.json()["errors"][0]["message"]
    assert told.json()["current"]["number"] == number


@pytest.mark.parametrize(
    ("body", "status", "field"),
    [
        ({}, 422, "kind"),
        ({"kind": "invoice"}, 422, "kind"),
        ({"kind": "confirmation"}, 409, None),
        ({"kind": "confirmation", "goods": "x"}, 422, "goods"),
        ({"kind": "receipt"}, 422, "goods"),
        ({"kind": "receipt", "goods": "x" * 501}, 422, "goods"),
        ({"kind": "receipt", "goods": ["x"]}, 422, "goods"),
        ({"kind": "receipt", "goods": "x", "weight_g": "heavy"}, 422, "weight_g"),
        ({"kind": "receipt", "goods": "x", "weight_g": 0}, 422, "weight_g"),
        ({"kind": "receipt", "weight_g": 2}, 422, "goods"),
        ({"kind": "receipt", "goods": "x", "bag": "x" * 41}, 422, "bag"),
        ({"kind": "receipt", "goods": "x", "stones": "1/1"}, 422, "stones"),
        ({"kind": "receipt", "goods": "x", "stones": [1]}, 422, "stones"),
        ({"kind": "receipt", "goods": "x", "stones": ["9/9"]}, 422, "stones"),
        ({"kind": "receipt", "goods": "x", "note": "x"}, 422, "note"),
        ({"kind": "return"}, 409, None),
        ({"kind": "return", "goods": "x"}, 422, "goods"),
        ({"kind": "return", "goods": ["x"]}, 422, "goods.0"),
        ({"kind": "return", "goods": [{"weight_g": 1}]}, 422, "goods.0.line"),
        ({"kind": "return", "goods": [{"line": "x", "weight_g": "x"}]}, 422, "goods.0.weight_g"),
        ({"kind": "return", "goods": [{"line": "x"}, {"line": "x"}]}, 422, "goods.1.line"),
        ({"kind": "return", "goods": [{"line": "x", "more": 1}]}, 422, "goods.0.more"),
        ({"kind": "return", "bag": "x"}, 422, "bag"),
        ({"kind": "return", "note": "x" * 501}, 422, "note"),
    ],
)
def test_what_cannot_stand_is_told_at_its_field(
    house: House, body: dict[str, Any], status: int, field: str | None
) -> None:
    number = house.take_order()
    answer = ask_for(house, number, **body)
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (status, field), answer.text
    assert shown(house, number)["documents"] == []


def test_a_line_that_is_not_held_does_not_go_back(house: House) -> None:
    number = with_stones(house, HERS)
    assert ask_for(house, number, kind="receipt").status_code == 201
    answer = ask_for(house, number, kind="return", goods=[{"line": f"{number}-r1/9"}])
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, "goods")


def test_an_unknown_order_and_an_unknown_paper_are_not_found(house: House) -> None:
    assert ask_for(house, "2026-999", kind="confirmation").status_code == 404
    missing = house.ask("GET", "/documents/2026-999-c1.pdf")
    assert missing.status_code == 404
    assert "There is no paper 2026-999-c1." in missing.text


def test_the_declared_value_is_for_the_papers_alone(house: House) -> None:
    number = with_stones(house, HERS)
    say_yes(house, number)
    ask_for(house, number, kind="receipt")
    assert "£400" not in house.ask("GET", f"/api/orders/{number}", Role.MAKER).text
