"""Quotes over the API: what one says, what holds it up, and what is done twice."""

import asyncio
import hashlib
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import httpx
import pytest

from studio import clock
from studio.book.engine import session
from studio.book.orders import OrderChanges, change_order
from studio.book.people import PROGRAM
from studio.book.quotes import issue_quote
from studio.craft.minutes import minute_rows
from studio.craft.roles import Role
from studio.web import issuing
from tests.web.asking import change, shown
from tests.web.house import House, a_ring
from tests.web.priced import RATES, a_quote, ask_for_quote, put_in_rates, say_yes, today


@pytest.fixture
def priced(house: House) -> House:
    put_in_rates(house)
    return house


def test_a_quote_says_what_it_costs_and_how_long_it_is_good(priced: House) -> None:
    number = priced.take_order(rings=[a_ring(), a_ring(width=4)])
    answer = ask_for_quote(priced, number, Role.COUNTER)
    assert answer.status_code == 201, answer.text
    told = answer.json()
    assert set(told) == {
        "number", "kind", "revision", "net_minor", "tax_minor", "total_minor", "deposit_minor", "currency",
        "valid_until", "lines", "variants", "pdf", "sha256",
    }  # fmt: skip
    assert (told["number"], told["revision"], told["currency"]) == (f"{number}-q1", 1, "GBP")
    assert told["valid_until"] == (today() + timedelta(days=14)).isoformat()
    assert told["net_minor"] == sum(line["net_minor"] for line in told["lines"])
    assert told["net_minor"] % 500 == 0
    assert told["tax_minor"] == sum(line["tax_minor"] for line in told["lines"])
    assert told["total_minor"] == told["net_minor"] + told["tax_minor"]
    assert told["deposit_minor"] == round(told["total_minor"] * 0.4)
    assert answer.headers["location"] == told["pdf"] == f"/quotes/{number}-q1.pdf"


def test_the_paper_is_served_as_it_was_hashed_whatever_the_rates_are_by_then(priced: House) -> None:
    number = priced.take_order()
    told = ask_for_quote(priced, number).json()
    put_in_rates(priced, replace(RATES, labour_hour_minor=99_00, tax_percent=Decimal(7)))
    paper = priced.ask("GET", told["pdf"], Role.COUNTER)
    assert paper.headers["content-type"] == "application/pdf"
    assert hashlib.sha256(paper.content).hexdigest() == told["sha256"]


def test_a_paper_that_is_not_made_yet_is_made_when_it_is_asked_for_and_kept(priced: House) -> None:
    number = priced.take_order()
    path = f"/quotes/{a_quote(priced, number).number}.pdf"
    assert shown(priced, number)["quotes"][0]["sha256"] is None
    first, second = (priced.ask("GET", path) for _ in range(2))
    assert first.content.startswith(b"%PDF-")
    assert first.content == second.content
    assert shown(priced, number)["quotes"][0]["sha256"] == hashlib.sha256(first.content).hexdigest()


def test_the_quote_makes_the_order_quoted_and_stands_in_it(priced: House) -> None:
    number = priced.take_order()
    told = ask_for_quote(priced, number).json()
    order = shown(priced, number)
    assert (order["state"], order["version"]) == ("quoted", 2)
    (quote,) = order["quotes"]
    assert quote == told | {"state": "open", "issued_at": quote["issued_at"], "mails": []}
    assert quote["issued_at"].endswith("Z")


def test_a_new_quote_takes_the_place_of_the_one_before(priced: House) -> None:
    number = priced.take_order()
    ask_for_quote(priced, number)
    second = ask_for_quote(priced, number).json()
    assert (second["number"], second["revision"]) == (f"{number}-q2", 2)
    assert [quote["state"] for quote in shown(priced, number)["quotes"]] == ["superseded", "open"]


def test_a_changed_ring_makes_the_order_a_draft_and_its_quote_void(priced: House) -> None:
    number = priced.take_order()
    ask_for_quote(priced, number)
    changed = change(priced, number, rings=[a_ring(width=5)]).json()
    assert (changed["state"], changed["quotes"][0]["state"]) == ("draft", "superseded")


def test_a_quote_can_say_otherwise_than_the_rates(priced: House) -> None:
    number = priced.take_order()
    plain = ask_for_quote(priced, number).json()
    told = ask_for_quote(
        priced, number, valid_days=30, deposit_percent=50, minutes={f"{number}/1": 600}
    ).json()
    assert told["valid_until"] == (today() + timedelta(days=30)).isoformat()
    assert told["deposit_minor"] * 2 == told["total_minor"]
    assert told["total_minor"] > plain["total_minor"]
    assert ask_for_quote(priced, number, deposit_percent=0).json()["deposit_minor"] == 0


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"valid_days": -3}, "This has to be 1 to 3650 days."),
        ({"minutes": {"2026-1/1": -1}}, "This has to be 0 to 10000 minutes."),
        ({"minutes": {"2026-1/9": 5}}, "This order has no ring 2026-1/9."),
    ],
)
def test_terms_out_of_their_range_are_told_the_range(
    priced: House, asked: dict[str, Any], words: str
) -> None:
    number = priced.take_order()
    if "minutes" in asked:
        place, minutes = next(iter(asked["minutes"].items()))
        asked, words = (
            {"minutes": {place.replace("2026-1", number): minutes}},
            words.replace("2026-1/", f"{number}/"),
        )
    answer = ask_for_quote(priced, number, **asked)
    assert answer.status_code == 422
    assert [error["message"] for error in answer.json()["errors"]] == [words]


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"valid_days": 0}, "valid_days"),
        ({"valid_days": "soon"}, "valid_days"),
        ({"valid_days": True}, "valid_days"),
        ({"deposit_percent": 101}, "deposit_percent"),
        ({"deposit_percent": "1,234"}, "deposit_percent"),
        ({"minutes": {"{number}/1": -5}}, "minutes.{number}/1"),
        ({"minutes": {"{number}/9": 5}}, "minutes.{number}/9"),
        ({"minutes": {"{number}/1": 1.5}}, "minutes.{number}/1"),
        ({"minutes": [5]}, "minutes"),
        ({"discount": 5}, "discount"),
    ],
)
def test_terms_that_cannot_stand_are_said_at_their_field(
    priced: House, asked: dict[str, Any], field: str
) -> None:
    number = priced.take_order()
    if isinstance(asked.get("minutes"), dict):
        asked = {"minutes": {name.format(number=number): n for name, n in asked["minutes"].items()}}
    answer = ask_for_quote(priced, number, **asked)
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, field.format(number=number))
    assert shown(priced, number)["quotes"] == []


def test_a_quote_says_what_it_waits_for(house: House) -> None:
    number = house.take_order(customer={"name": "Ned Hallow"}, wanted_on=None)
    answer = ask_for_quote(house, number)
    waits_for = answer.json()["current"]["missing"]
    assert waits_for[:4] == ["phone", "wanted day", "rates", "price of silver"]
    assert "minutes for 'Work the pattern, hammered'" in waits_for[4:]
    assert "minutes for 'Work the pattern, rolled'" not in waits_for[4:]
    assert answer.status_code == 409
    assert answer.json()["current"] == {
        "number": number, "state": "draft", "version": 1, "missing": waits_for,
    }  # fmt: skip
    assert answer.json()["errors"] == [
        {"field": None, "message": f"The quote waits for: {', '.join(waits_for)}."}
    ]


def test_a_metal_without_a_price_and_an_operation_without_minutes_hold_up_the_quote(priced: House) -> None:
    platinum = priced.take_order(rings=[a_ring(alloy="platinum-950-ru")])
    assert ask_for_quote(priced, platinum).json()["current"]["missing"] == ["price of platinum"]
    number = priced.take_order()
    fewer = {row: 11 for row in minute_rows() if row != "pattern:hammered"}
    put_in_rates(priced, replace(RATES, minutes=fewer))
    missing = ask_for_quote(priced, number).json()["current"]["missing"]
    assert missing == ["minutes for 'Work the pattern, hammered'"]


def test_an_unknown_order_or_paper_is_not_found(priced: House) -> None:
    assert ask_for_quote(priced, "2026-999").status_code == 404
    missing = priced.ask("GET", "/quotes/2026-999-q1.pdf")
    assert (missing.status_code, missing.json()["errors"][0]["message"]) == (
        404, "There is no quote 2026-999-q1.",
    )  # fmt: skip


def test_the_same_key_issues_one_quote_even_after_the_order_moved_on(priced: House) -> None:
    number = priced.take_order()
    first, second = (ask_for_quote(priced, number, key="q-1") for _ in range(2))
    assert (first.status_code, first.content) == (201, second.content)
    agreed = priced.ask(
        "POST", f"/api/quotes/{first.json()['number']}/agreement", json={"name": "Ottilie Marchbanks"}
    )
    assert agreed.status_code == 201
    assert ask_for_quote(priced, number, key="q-1").content == first.content
    assert ask_for_quote(priced, number, key="q-1", valid_days=3).status_code == 409
    assert len(shown(priced, number)["quotes"]) == 1


def test_twenty_presses_at_once_issue_one_quote(priced: House) -> None:
    number = priced.take_order()

    async def all_at_once() -> list[httpx.Response]:
        headers = {"authorization": f"Bearer {priced.tokens[Role.OWNER]}", "idempotency-key": "pressed"}
        path = f"/api/orders/{number}/quotes"
        return await asyncio.gather(
            *(priced.sends("POST", path, json={}, headers=headers) for _ in range(20))
        )

    answers = asyncio.run(all_at_once())
    assert {answer.status_code for answer in answers} == {201}
    assert len({answer.content for answer in answers}) == 1
    assert len(shown(priced, number)["quotes"]) == 1


def touches_first(house: House, number: str, monkeypatch: pytest.MonkeyPatch, times: int) -> list[int]:
    """Somebody else changes the order's note just before a quote is written, `times` times."""
    written: list[int] = []

    def late(book: Any, **given: Any) -> Any:
        if len(written) < times:
            with session(house.engine) as other:
                note = OrderChanges(note=f"change {len(written)}")
                change_order(
                    other,
                    number=number,
                    version=given["draft"].version,
                    changes=note,
                    actor=PROGRAM,
                    now=clock.now(),
                )
        written.append(given["draft"].version)
        return issue_quote(book, **given)

    monkeypatch.setattr(issuing, "issue_quote", late)
    return written


def test_a_quote_that_lost_a_race_is_prepared_again(priced: House, monkeypatch: pytest.MonkeyPatch) -> None:
    number = priced.take_order()
    written = touches_first(priced, number, monkeypatch, times=2)
    assert ask_for_quote(priced, number).status_code == 201
    assert written == [1, 2, 3]
    order = shown(priced, number)
    assert (order["note"], len(order["quotes"])) == ("change 1", 1)


def test_a_quote_that_loses_every_race_finds_the_book_busy(
    priced: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    number = priced.take_order()
    monkeypatch.setattr(issuing, "MOST_TRIES", 3)
    written = touches_first(priced, number, monkeypatch, times=9)
    answer = ask_for_quote(priced, number)
    assert (answer.status_code, answer.headers["retry-after"]) == (503, "2")
    assert answer.json()["errors"][0]["message"].startswith("Somebody else is writing in the book.")
    assert written == [1, 2, 3]


def test_eight_quotes_asked_for_at_once_without_a_key_are_eight_revisions(priced: House) -> None:
    number = priced.take_order()

    async def all_at_once() -> list[httpx.Response]:
        headers = {"authorization": f"Bearer {priced.tokens[Role.OWNER]}"}
        path = f"/api/orders/{number}/quotes"
        return await asyncio.gather(*(priced.sends("POST", path, json={}, headers=headers) for _ in range(8)))

    answers = asyncio.run(all_at_once())
    assert [answer.status_code for answer in answers] == [201] * 8
    assert sorted(answer.json()["revision"] for answer in answers) == [1, 2, 3, 4, 5, 6, 7, 8]


def test_an_agreed_order_is_not_quoted_anew_while_the_yes_stands(priced: House) -> None:
    number = priced.take_order()
    say_yes(priced, number)
    answer = ask_for_quote(priced, number)
    assert answer.status_code == 409
    words = "This order is agreed. Take the yes back first, then quote anew."
    assert answer.json()["errors"] == [{"field": None, "message": words}]


def test_the_description_tells_of_quotes_and_prices(priced: House) -> None:
    told = priced.ask("GET", "/api/openapi.json", Role.MAKER).json()
    quotes = told["paths"]["/api/orders/{number}/quotes"]["post"]
    assert quotes["x-right"] == ["quote"]
    assert any(parameter["name"] == "Idempotency-Key" for parameter in quotes["parameters"])
    assert quotes["responses"]["201"]["content"]["application/json"]["schema"]["$ref"].endswith("/QuoteOut")
    for path in ("/api/quotes/{number}/agreement", "/api/metal-prices"):
        assert "201" in told["paths"][path]["post"]["responses"]
    assert "application/pdf" in told["paths"]["/quotes/{number}.pdf"]["get"]["responses"]["200"]["content"]
    assert set(told["components"]["schemas"]["QuoteOut"]["required"]) >= {"lines", "pdf", "sha256"}
