"""A quote by mail, the whole way: the button, the outbox, a real mail server, and what the page says then."""

import asyncio
import re
from datetime import timedelta

import httpx
import pytest
from fastapi import FastAPI

from studio.book.orders import CustomerDraft
from studio.book.outbox import take_mail
from studio.book.outbox_values import LEASE
from studio.book.quotes import quote, quote_pdf
from studio.craft.roles import Role
from studio.web.postman import Postman
from tests.builders import NOW, an_order
from tests.mail_server import Box
from tests.quoting import a_quote
from tests.web.mailing import (
    BASE,
    HEADS_OF_THEIR_OWN,
    MAILS,
    QUOTE,
    TO,
    box,
    morning,
    press,
    read,
    rounds,
)
from tests.web.morning import Morning
from tests.web.quoting import quote_of

__all__ = ["box", "morning"]


def test_a_quote_is_sent_by_a_press_and_its_page_says_how_far_it_has_come(morning: Morning, box: Box) -> None:
    page = morning.see(f"/quotes/{QUOTE}", Role.COUNTER)
    assert page.form(MAILS).fields["mail_to"] == TO
    assert rounds(morning) == 0  # nothing goes out by being looked at
    assert press(morning) == 303
    assert f"Queued 10:00 to {TO}, Ivo" in morning.see(f"/quotes/{QUOTE}").words
    assert rounds(morning) == 1
    words = morning.see(f"/quotes/{QUOTE}").words
    assert f"Handed to the mail server 10:00 to {TO}, Ivo" in words
    assert f"By e-mail to {TO}, Wed 25 Nov, 10:00, Ivo" in words
    (sent,) = box.letters
    assert (box.senders, box.addresses) == (["book@wrenfold.example"], [TO])
    assert sent.isascii()
    message = read(sent)
    assert message["To"].addresses[0].addr_spec == TO
    assert message["To"].addresses[0].display_name == "Jorun Müller"
    assert message["Subject"] == f"Quote {QUOTE} from Wrenfold, goldsmiths"
    assert message["X-Unsent"] is None
    text, html = message.get_body(("plain",)), message.get_body(("html",))
    assert text is not None
    assert html is not None
    assert "Dear Jorun Müller," in text.get_content()
    assert "Dear Jorun Müller," in html.get_content()
    assert html.get_content().count("http") == 2  # the link and its words, and nothing to fetch
    (paper,) = message.iter_attachments()
    with morning.book() as book:
        assert paper.get_payload(decode=True) == quote_pdf(book, QUOTE)


def test_two_presses_of_one_page_are_one_letter(morning: Morning, box: Box) -> None:
    form = morning.see(f"/quotes/{QUOTE}", Role.COUNTER).form(MAILS)
    for _ in range(2):
        assert morning.send(MAILS, form.filled(), Role.COUNTER)[0] == 303
    assert rounds(morning) == 1
    assert len(box.letters) == 1


def test_a_test_goes_to_the_studio_and_says_so(morning: Morning, box: Box) -> None:
    assert press(morning, f"{MAILS}/test") == 303
    assert rounds(morning) == 1
    message = read(box.letters[0])
    assert box.addresses == ["book@wrenfold.example"]
    assert message["To"].addresses[0].addr_spec == "book@wrenfold.example"
    assert message["Subject"].startswith("Test: Quote ")
    body = message.get_body(("plain",))
    assert body is not None
    assert body.get_content().startswith("A test: the quote as Jorun Müller would get it.")
    with morning.book() as book:
        assert quote(book, QUOTE).sendings == ()


def test_a_refused_letter_stands_in_pencil_and_is_sent_again_as_the_same(morning: Morning, box: Box) -> None:
    box.to_rcpt = "550 5.1.1 <b>no such box</b>"
    press(morning)
    rounds(morning)
    page = morning.see(f"/quotes/{QUOTE}", Role.COUNTER)
    assert "Refused: 550 5.1.1 <b>no such box</b> (10:00)" in page.words
    in_hand = morning.see("/", Role.COUNTER)
    told = f"The mail with {QUOTE} to {TO} was refused: 550 5.1.1 <b>no such box</b>"
    assert told in in_hand.words
    assert in_hand.link("See the mail: Jorun Müller, 2026-1") == f"/quotes/{QUOTE}#mails"
    maker = morning.see("/", Role.MAKER).words
    assert f"The mail with {QUOTE} was refused." in maker
    assert TO not in maker
    assert TO not in morning.see("/orders/2026-1", Role.MAKER).words
    box.to_rcpt, box.to_data = "250 OK", "451 4.3.0 later"
    again = next(form for form in page.forms if form.action.endswith("/again"))
    assert morning.send(again.action, again.filled(), Role.COUNTER)[0] == 303
    rounds(morning)
    words = morning.see(f"/quotes/{QUOTE}").words
    assert "Queued 10:00, one try, the next 10:01: 451 4.3.0 later" in words
    assert "was refused" not in morning.see("/").words
    box.to_data = "250 taken"
    morning.turn_to(NOW + timedelta(minutes=1))
    rounds(morning)
    assert "Handed to the mail server 10:01" in morning.see(f"/quotes/{QUOTE}").words
    names = {read(letter)["Message-ID"] for letter in box.letters}
    assert (len(box.letters), len(names)) == (2, 1)
    answer = morning.house.browse("POST", again.action, Role.COUNTER, headers=morning._cookie(Role.COUNTER))
    assert answer.status_code == 409
    assert "This mail was not refused, so it is not sent again." in answer.text


def test_a_letter_whose_end_nobody_noted_goes_twice_under_one_name(morning: Morning, box: Box) -> None:
    press(morning)
    with morning.book() as book:
        assert take_mail(book, now=NOW) is not None  # a process took it, and fell
    assert rounds(morning) == 0
    morning.turn_to(NOW + LEASE)
    assert rounds(morning) == 1
    assert len(box.letters) == 1


def test_two_postmen_at_once_hand_a_letter_over_once(morning: Morning, box: Box) -> None:
    press(morning)
    app = morning.house.app

    async def both() -> list[bool]:
        men = [
            Postman(morning.house.engine, box.server(), lambda: app.state.printer, base_url=BASE)
            for _ in range(2)
        ]  # fmt: skip
        return list(await asyncio.gather(*(man.go_once() for man in men)))

    assert sorted(asyncio.run(both())) == [False, True]
    assert len(box.letters) == 1


def test_a_served_app_works_its_outbox_by_itself_and_ends_a_silent_talk(morning: Morning, box: Box) -> None:
    house = morning.house

    async def served(app: FastAPI, *, until: str) -> str:
        async with app.router.lifespan_context(app):
            transport = httpx.ASGITransport(app=app)
            async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:8321") as client:
                headers = {"authorization": f"Bearer {house.tokens[Role.COUNTER]}"}
                answer = await client.post(f"/api{MAILS}", headers=headers, json={})
                assert answer.status_code == 202
                state = ""
                for _ in range(200):
                    told = await client.get("/api/orders/2026-1", headers=headers)
                    state = told.json()["quotes"][0]["mails"][-1]["state"]
                    if state == until:
                        break
                    await asyncio.sleep(0.05)
                return state

    assert asyncio.run(served(house.app, until="handed over")) == "handed over"
    assert len(box.letters) == 1


def test_a_quote_superseded_meanwhile_does_not_go(morning: Morning, box: Box) -> None:
    press(morning)
    quote_of(morning, "2026-1")
    assert rounds(morning) == 0
    assert box.letters == []
    page = morning.see(f"/quotes/{QUOTE}", Role.COUNTER)
    assert "Refused: Not sent: the quote no longer stands." in page.words
    assert [form for form in page.forms if "/mails" in form.action] == []
    status, _, told = morning.send(MAILS, {"mail_to": TO}, Role.COUNTER)
    assert status == 409
    assert "This quote no longer stands. 2026-1-q2 stands in its place." in told.words
    assert "was refused" not in morning.see("/").words


@pytest.mark.parametrize(
    "typed", ["", "nobody", "ines@radley", "a@b.example, c@d.example", f"{TO}\r\nBcc: x@y.example"]
)
def test_what_is_no_address_comes_back_with_a_sentence(morning: Morning, box: Box, typed: str) -> None:
    status, _, page = morning.send(MAILS, {"mail_to": typed}, Role.COUNTER)
    assert status == 422
    assert page.by_id("f-mail-to-wrong")
    assert rounds(morning) == 0
    assert box.letters == []


def test_another_address_gets_the_letter(morning: Morning, box: Box) -> None:
    press(morning, mail_to="ned@elsewhere.example")
    rounds(morning)
    assert box.addresses == ["ned@elsewhere.example"]


def test_a_name_sends_the_letter_to_nobody_else(morning: Morning, box: Box) -> None:
    for place, name in enumerate(HEADS_OF_THEIR_OWN):
        to = f"customer-{place}@radley.example"
        with morning.book() as book:
            made = a_quote(book, an_order(book, customer=CustomerDraft(name, "01632 960 102", to))).number
        assert morning.send(f"/quotes/{made}/mails", {"mail_to": to}, Role.COUNTER)[0] == 303
    assert rounds(morning) == len(box.letters) == len(HEADS_OF_THEIR_OWN)
    assert box.addresses == [f"customer-{place}@radley.example" for place in range(len(HEADS_OF_THEIR_OWN))]
    for letter, to in zip(box.letters, box.addresses, strict=True):
        message = read(letter)
        assert [one.addr_spec for one in message["To"].addresses] == [to]
        assert {"bcc", "cc"} & {head.lower() for head in message} == set()
        html = message.get_body(("html",))
        assert html is not None
        known = "html|head|meta|title|body|p|br|a"
        assert re.findall(f"<(?!/?(?:{known})[ >]|!DOCTYPE)", html.get_content()) == []
