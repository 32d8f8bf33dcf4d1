"""Invoices and credit notes for programs."""

import hashlib
from typing import Any

import pytest

from studio.book.engine import session
from studio.craft.roles import Role
from tests.invoicing import says
from tests.web.asking import an_agreed_order, shown
from tests.web.house import House


def ask_for(house: House, number: str, role: Role = Role.COUNTER, key: str = "", **body: Any) -> Any:
    headers = {"idempotency-key": key} if key else {}
    return house.ask("POST", f"/api/orders/{number}/invoices", role, json=body, headers=headers)


def credit(house: House, number: str, **body: Any) -> Any:
    return house.ask("POST", f"/api/invoices/{number}/credit-notes", Role.COUNTER, json=body)


def listed(house: House, number: str) -> list[dict[str, Any]]:
    told = house.ask("GET", f"/api/orders/{number}/invoices", Role.COUNTER).json()["invoices"]
    return list(told)


def test_a_program_makes_the_invoice_of_an_order(house: House) -> None:
    number = an_agreed_order(house)
    told = ask_for(house, number, kind="invoice", address="12 Row\nTown")
    assert told.status_code == 201, told.text
    made = told.json()
    assert (made["kind"], made["order"], made["credits"], made["payment"]) == ("invoice", number, None, None)
    assert told.headers["location"] == made["pdf"] == f"/invoices/{made['number']}.pdf"
    total = shown(house, number)["money"]["due_minor"]
    assert (made["total_minor"], made["left_minor"]) == (total, total)
    assert made["net_minor"] + made["tax_minor"] == total
    assert made["sums"] == [{"percent": "20", "net_minor": made["net_minor"], "tax_minor": made["tax_minor"]}]
    paper = house.ask("GET", made["pdf"], Role.OWNER).content
    assert listed(house, number) == [made | {"sha256": hashlib.sha256(paper).hexdigest()}]
    assert shown(house, number)["customer"]["address"] == "12 Row\nTown"


def test_one_key_makes_one_invoice(house: House) -> None:
    number = an_agreed_order(house)
    first, second = (ask_for(house, number, key="once", kind="invoice") for _ in range(2))
    assert first.json() == second.json()
    assert len(listed(house, number)) == 1
    assert ask_for(house, number, kind="invoice").status_code == 409


def test_a_program_invoices_a_payment_and_credits_it(house: House) -> None:
    number = an_agreed_order(house)
    with session(house.engine) as book:
        says(book)
    paid = house.ask("POST", f"/api/orders/{number}/payments", Role.COUNTER, json={"amount_minor": 12_000})
    assert paid.status_code == 201, paid.text
    payment = f"{number}-p1"
    made = ask_for(house, number, kind="on account", payment=payment).json()
    assert (made["payment"], made["net_minor"], made["tax_minor"]) == (payment, 10_000, 2_000)
    note = credit(house, made["number"], amount_minor=6_000, why="half of it").json()
    assert (note["kind"], note["credits"], note["reason"]) == ("credit note", made["number"], "half of it")
    assert (note["net_minor"], note["tax_minor"], note["total_minor"], note["left_minor"]) == (
        -5_000, -1_000, -6_000, 0,
    )  # fmt: skip
    assert credit(house, made["number"], why="the rest").json()["total_minor"] == -6_000
    assert [one["left_minor"] for one in listed(house, number)] == [0, 0, 0]
    assert credit(house, made["number"], why="again").status_code == 409
    assert credit(house, "2026-0099", why="of nothing").status_code == 404


@pytest.mark.parametrize(
    ("body", "field", "words"),
    [
        ({}, "kind", "The kind is not given yet."),
        ({"kind": "bill"}, "kind", "bill"),
        ({"kind": "credit note"}, "kind", "A credit note is made for its invoice"),
        ({"kind": "on account"}, "payment", "The payment is not given yet."),
        ({"kind": "invoice", "payment": "2026-1-p1"}, "payment", "An invoice takes no payment."),
        ({"kind": "on account", "payment": "2026-1-p7"}, "payment", "Choose a payment of this order."),
        ({"kind": "invoice", "address": "\n".join("abcdef")}, "address", "An address has up to 5 lines"),
    ],
)
def test_what_cannot_be_made_is_told_at_its_field(
    house: House, body: dict[str, Any], field: str, words: str
) -> None:
    told = ask_for(house, an_agreed_order(house), **body)
    assert told.status_code == 422
    (error,) = told.json()["errors"]
    assert error["field"] == field
    assert words in error["message"]


@pytest.mark.parametrize(
    ("body", "field"),
    [({}, "why"), ({"why": " "}, "why"), ({"why": "x", "amount_minor": 0}, "amount_minor"),
     ({"why": "x", "amount_minor": 1.5}, "amount_minor"),
     ({"why": "x", "amount_minor": 10**9}, "amount_minor")],
)  # fmt: skip
def test_what_cannot_be_credited_is_told_at_its_field(house: House, body: dict[str, Any], field: str) -> None:
    made = ask_for(house, an_agreed_order(house), kind="invoice").json()
    told = credit(house, made["number"], **body)
    assert told.status_code == 422
    assert [error["field"] for error in told.json()["errors"]] == [field]


def test_a_maker_reads_no_invoices(house: House) -> None:
    number = an_agreed_order(house)
    made = ask_for(house, number, kind="invoice").json()
    assert ask_for(house, number, Role.MAKER, kind="invoice").status_code == 403
    for path in (f"/api/orders/{number}/invoices", made["pdf"]):
        assert house.ask("GET", path, Role.MAKER).status_code == 403
    assert "address" not in shown(house, number, Role.MAKER)["customer"]
