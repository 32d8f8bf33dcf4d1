"""Reminders that cannot go as they were typed, went already, or leave by another way than the outbox."""

import re
from datetime import timedelta

import pytest

from studio.book.orders import CustomerDraft
from studio.craft.roles import Role
from tests.builders import NOW, an_order
from tests.mail_server import Box
from tests.quoting import a_quote, a_yes
from tests.reminding import TO, a_balance, an_ending_quote, an_open_deposit
from tests.web.mailing import (
    BASE,
    HEADS_OF_THEIR_OWN,
    body_of,
    is_in_the_book,
    link_in,
    read,
    rounds,
)
from tests.web.morning import Morning
from tests.web.reminders import box, morning, page_of, sent, without_mail

__all__ = ["box", "morning"]


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("to", ""),
        ("to", "nobody"),
        ("to", f"{TO}\r\nBcc: all@customers.example"),
        ("to", f"{TO}, b@c.example"),
        ("words", ""),
        ("words", "x" * 4001),
        ("words", "a\u202eb"),
        ("words", "a\x0cb"),
        ("words", "The deposit: [link]"),
    ],
)
def test_what_cannot_go_comes_back_with_a_sentence_and_all_that_was_typed(
    morning: Morning, box: Box, field: str, typed: str
) -> None:
    with morning.book() as book:
        number = an_open_deposit(book)
    path = page_of(number, "deposit")
    fields = {"to": "ned@elsewhere.example", "words": "My own words."} | {field: typed}
    for act in ("", "/text", "/letter.eml"):
        if act and (field, typed) == ("to", ""):
            continue  # who takes it along addresses it themselves
        status, _, page = morning.send(path + act, fields, Role.COUNTER)
        assert status == 422
        assert page.by_id(f"f-{field}-wrong")
        other = ({"to", "words"} - {field}).pop()
        assert page.form(path).fields[other] == fields[other]
        assert page.form(path).fields[field] == typed
    assert rounds(morning) == 0
    assert box.letters == []


def test_two_presses_are_one_letter_and_a_second_within_a_day_wants_a_tick(
    morning: Morning, box: Box
) -> None:
    with morning.book() as book:
        number = an_open_deposit(book)
    path = page_of(number, "deposit")
    form = morning.see(path, Role.COUNTER).form(path)
    for _ in range(2):
        assert morning.send(path, form.filled(), Role.COUNTER)[0] == 303
    status, said = sent(morning, number, "deposit", words="Once more, in my words.")
    assert status == 409
    assert "They were reminded of this within the last day. Tick if it is meant." in said
    for act in ("/text", "/letter.eml"):
        assert sent(morning, number, "deposit", act)[0] == 409
    assert rounds(morning) == len(box.letters) == 1
    status, _, page = morning.send(path, {"to": TO, "words": "Once more."}, Role.COUNTER)
    assert page.form(path).fields["words"] == "Once more."
    assert sent(morning, number, "deposit", again="yes")[0] == 303
    morning.turn_to(NOW + timedelta(hours=25))
    assert "within a day" not in morning.see(path, Role.COUNTER).words


def test_a_refused_reminder_stands_in_pencil_and_in_hand_and_is_sent_again(
    morning: Morning, box: Box
) -> None:
    with morning.book() as book:
        number = an_open_deposit(book)
    box.to_rcpt = "550 5.1.1 <b>no such box</b>"
    sent(morning, number, "deposit")
    rounds(morning)
    assert "Refused: 550 5.1.1 <b>no such box</b> (10:00)" in morning.see("/reminders", Role.COUNTER).words
    in_hand = morning.see("/", Role.COUNTER).words
    assert f"The reminder of the deposit to {TO} was refused: 550" in in_hand
    assert TO not in morning.see("/", Role.MAKER).words
    box.to_rcpt = "250 OK"
    page = morning.see(f"/quotes/{number}-q1", Role.COUNTER)
    again = next(form for form in page.forms if form.action.endswith("/again"))
    assert morning.send(again.action, again.filled(), Role.COUNTER)[0] == 303
    assert rounds(morning) == len(box.letters) == 1
    assert "was refused" not in morning.see("/", Role.COUNTER).words


def test_a_name_or_a_text_sends_the_reminder_to_nobody_else(morning: Morning, box: Box) -> None:
    for place, hostile in enumerate(HEADS_OF_THEIR_OWN):
        to = f"customer-{place}@radley.example"
        with morning.book() as book:
            made = a_quote(book, an_order(book, customer=CustomerDraft(hostile, "01632 960 102", to)))
            number = a_yes(book, made, deposit_minor=None).number
        words = f"{hostile}\n\n.\nFrom here on\nBcc: all@customers.example\n\n{hostile}"
        status, said = sent(morning, number, "deposit", words=words)
        assert status == 303, said
    assert rounds(morning) == len(box.letters) == len(HEADS_OF_THEIR_OWN)
    assert box.addresses == [f"customer-{place}@radley.example" for place in range(len(HEADS_OF_THEIR_OWN))]
    for letter, to, hostile in zip(box.letters, box.addresses, HEADS_OF_THEIR_OWN, strict=True):
        message = read(letter)
        assert [one.addr_spec for one in message["To"].addresses] == [to]
        assert {"bcc", "cc"} & {head.lower() for head in message} == set()
        assert message["Subject"].startswith("The deposit for your ring, order 2026-")
        assert "\n.\nFrom here on\nBcc: all@customers.example\n" in body_of(letter)
        assert body_of(letter).startswith(hostile.strip())
        known = "html|head|meta|title|body|p|br"
        assert re.findall(f"<(?!/?(?:{known})[ >]|!DOCTYPE)", body_of(letter, "html")) == []


def test_without_a_mail_server_it_is_a_file_or_a_text_with_a_link_made_by_the_press(morning: Morning) -> None:
    with morning.book() as book:
        number = an_ending_quote(book)
    without_mail(morning)
    path = page_of(number, "quote")
    page = morning.see(path, Role.COUNTER)
    assert "Send by mail" not in page.form(path).buttons
    assert morning.send(path, page.form(path).filled(), Role.COUNTER)[0] == 409
    headers = morning._cookie(Role.COUNTER)
    file = morning.house.browse("POST", f"{path}/letter.eml", headers=headers, data=page.form(path).filled())
    assert (file.status_code, file.headers["content-type"]) == (200, "message/rfc822")
    assert read(file.content)["X-Unsent"] == "1"
    assert len(list(read(file.content).iter_attachments())) == 1
    first = link_in(file.content)
    assert "Taken along 10:00" in morning.see("/reminders", Role.COUNTER).words
    assert "Ivo took a reminder along, of the quote" in morning.see(f"/orders/{number}").words
    status, _, copied = morning.send(f"{path}/text", page.form(path).filled(again="yes"), Role.COUNTER)
    assert status == 200
    (second,) = set(re.findall(rf"{BASE}(/answer/[A-Za-z0-9_-]+)", copied.words))
    assert first != second
    for one in (first, second):
        assert morning.house.browse("GET", one, None).status_code == 200
        assert not is_in_the_book(morning.house.engine, one.removeprefix("/answer/"))


def test_what_is_not_due_has_no_reminder(morning: Morning) -> None:
    with morning.book() as book:
        number = a_balance(book, is_paid=True)
    for kind, told in (
        ("quote", "No quote of this order waits for an answer."),
        ("deposit", "No deposit of this order is open."),
        ("balance", "This order is not ready, or nothing is to be paid any more."),
    ):
        page = morning.see(page_of(number, kind), Role.COUNTER)
        assert (page.status, told in page.words) == (409, True)
    assert morning.see(page_of(number, "thanks"), Role.COUNTER).status == 404
    assert morning.see(page_of("2026-999", "quote"), Role.COUNTER).status == 404
