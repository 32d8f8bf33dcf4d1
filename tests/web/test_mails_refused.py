"""What is not sent without a mail server, by the API, without an address; and what nobody gets to read."""

import logging
from dataclasses import replace

import pytest

from studio.book.orders import CustomerDraft
from studio.craft.roles import Role
from studio.web.app import create_app
from tests.mail_server import PASSWORD, USER, Box, a_scripted_server
from tests.web.house import settings
from tests.web.mailing import MAILS, QUOTE, TO, app_with, box, morning, press, rounds
from tests.web.morning import Morning
from tests.web.quoting import quoted

__all__ = ["box", "morning"]


def test_without_a_mail_server_the_letter_is_a_file(morning: Morning) -> None:
    house = morning.house
    morning.house = replace(house, app=create_app(settings(house.home), house.engine))
    page = morning.see(f"/quotes/{QUOTE}", Role.COUNTER)
    assert [form for form in page.forms if "/mails" in form.action] == []
    assert page.link("Letter with the paper") == f"/quotes/{QUOTE}/letter.eml"
    status, _, told = morning.send(MAILS, {"mail_to": TO}, Role.COUNTER)
    assert status == 409
    assert "No mail server is set here. Take the letter as a file and send it yourself." in told.words
    assert house.app.state.postman is not None
    assert morning.house.app.state.postman is None


def test_by_the_api_it_is_queued_and_its_letters_are_for_those_who_see_the_contact(
    morning: Morning, box: Box
) -> None:
    ask = morning.house.ask
    answer = ask("POST", f"/api{MAILS}", Role.COUNTER, json={"to": "ned@elsewhere.example"})
    assert answer.status_code == 202
    told = answer.json()
    assert (told["state"], told["queued_at"], told["to"], told["tries"]) == (
        "queued", "2026-11-25T10:00:00Z", "ned@elsewhere.example", 0,
    )  # fmt: skip
    rounds(morning)
    (seen,) = ask("GET", "/api/orders/2026-1", Role.OWNER).json()["quotes"]
    assert [(one["state"], one["answer"]) for one in seen["mails"]] == [("handed over", "250 queued as 4711")]
    (seen,) = ask("GET", "/api/orders/2026-1", Role.MAKER).json()["quotes"]
    assert "mails" not in seen
    refused = ask("POST", f"/api{MAILS}", Role.COUNTER, json={"to": "nobody"})
    assert (refused.status_code, refused.json()["errors"][0]["field"]) == (422, "to")
    assert ask("POST", "/api/quotes/2026-9-q1/mails", Role.COUNTER, json={}).status_code == 404
    key = {"Idempotency-Key": "once"}
    twice = [ask("POST", f"/api{MAILS}", Role.COUNTER, json={}, headers=key).json() for _ in range(2)]
    assert twice[0] == twice[1]
    assert rounds(morning) == 1
    assert len(box.letters) == 2


def test_a_customer_without_an_address_needs_one_typed(morning: Morning) -> None:
    made = quoted(morning, customer=CustomerDraft("Ned Rook", "01632 960 103"))
    answer = morning.house.ask("POST", f"/api/quotes/{made}/mails", Role.COUNTER, json={})
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, "to")


def test_the_password_is_in_no_page_no_log_and_no_error(
    morning: Morning, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    press(morning)
    said = (
        "220 hello",
        "250-mail.example\r\n250 AUTH PLAIN LOGIN",
        f"535 who is {PASSWORD}",
        "535 no",
        "535 no",
    )
    with a_scripted_server(said) as silent:
        server = replace(silent, user=USER, password=PASSWORD)
        house = morning.house
        morning.house = replace(house, app=app_with(house, server))
        rounds(morning, server)
    shown = [morning.see(path) for path in (f"/quotes/{QUOTE}", "/", "/orders/2026-1", "/studio")]
    assert "Refused: 535" in shown[0].words
    told = [page.words for page in shown] + [
        morning.house.ask("GET", "/api/orders/2026-1").text,
        repr(morning.house.app.state.settings),
        repr(morning.house.app.state.settings.mail_server),
        caplog.text,
    ]
    assert [text for text in told if PASSWORD in text] == []
