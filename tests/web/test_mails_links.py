"""The link in a letter: each try has its own, only its hash is kept, and the customer answers by it."""

import logging
import re

import pytest
from sqlmodel import select

from studio.book.answer_link_tables import AnswerLinkRow
from studio.book.orders import order
from studio.book.outbox_values import PAUSES
from studio.book.quotes import quote_pdf
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW
from tests.mail_server import Box
from tests.quoting import an_amendment
from tests.web.mailing import (
    BASE,
    MAILS,
    QUOTE,
    body_of,
    box,
    is_in_the_book,
    link_in,
    morning,
    press,
    read,
    rounds,
)
from tests.web.morning import Morning
from tests.web.quoting import quote_of, state_of
from tests.web.shown import Shown

__all__ = ["box", "morning"]


def links(morning: Morning) -> list[AnswerLinkRow]:
    with morning.book() as book:
        return list(book.exec(select(AnswerLinkRow).order_by("id")).all())


def opened(morning: Morning, path: str) -> int:
    return int(morning.house.browse("GET", path, None).status_code)


def test_the_link_of_the_letter_opens_the_page_and_a_yes_by_it_agrees_the_order(
    morning: Morning, box: Box
) -> None:
    press(morning)
    assert links(morning) == []  # a letter that waits has none
    assert rounds(morning) == 1
    path = link_in(box.letters[0])
    said = body_of(box.letters[0])
    assert f"Say yes, or tell us what is not right, on your own page:\n{BASE}{path}\n" in said
    assert "Or say yes at our counter, or sign the paper and send it back." in said
    assert f'<a href="{BASE}{path}">{BASE}{path}</a>' in body_of(box.letters[0], "html")
    page = Shown(morning.house.browse("GET", path, None))
    assert "Your ring, Jorun Müller" in page.words
    typed = {**page.forms[0].fields, "name": "Jorun Müller", "read": "yes", "act": "yes"}
    answer = morning.house.browse("POST", path, None, data=typed)
    assert "You said yes on" in Shown(answer).words
    assert state_of(morning, "2026-1") is State.AGREED
    with morning.book() as book:
        found = order(book, "2026-1")
    assert found.agreed_name == "Jorun Müller"


def test_only_the_hash_of_the_link_is_anywhere_once_the_letter_has_left(
    morning: Morning, box: Box, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    press(morning)
    rounds(morning)
    key = link_in(box.letters[0]).removeprefix("/answer/")
    (row,) = links(morning)
    assert is_in_the_book(morning.house.engine, row.key_hash)
    assert not is_in_the_book(morning.house.engine, key)
    ours = [record.getMessage() for record in caplog.records if record.name != "mail.log"]  # the server's
    assert [line for line in ours if key in line] == []
    with morning.book() as book:
        assert key.encode() not in quote_pdf(book, QUOTE)
    for page in (f"/quotes/{QUOTE}", "/orders/2026-1", "/"):
        assert key not in morning.see(page).words


def test_a_server_that_repeats_the_letter_tells_the_page_no_link(morning: Morning, box: Box) -> None:
    """Filters name the address that they do not like, some of them in capitals."""
    box.repeats = re.compile(rb"/answer/([A-Za-z0-9_-]+)")
    box.to_data = "554 5.7.1 blocked: https://HERE and {key} and {KEY}"
    press(morning)
    rounds(morning)
    key = link_in(box.letters[0]).removeprefix("/answer/")
    words = morning.see(f"/quotes/{QUOTE}").words
    assert "Refused: 554 5.7.1 blocked: https://HERE and … and …" in words
    assert not is_in_the_book(morning.house.engine, key)
    assert not is_in_the_book(morning.house.engine, key.upper())


def test_a_letter_tried_again_has_a_link_of_its_own_and_the_first_goes_on(morning: Morning, box: Box) -> None:
    box.to_data = "451 4.3.0 later"  # as where the answer is lost: the letter is there, and nobody knows
    press(morning)
    rounds(morning)
    box.to_data = "250 taken"
    morning.turn_to(NOW + PAUSES[0])
    rounds(morning)
    first, second = (link_in(letter) for letter in box.letters)
    assert first != second
    assert [opened(morning, path) for path in (first, second)] == [200, 200]
    press(morning)
    rounds(morning)
    third = link_in(box.letters[2])
    assert [opened(morning, path) for path in (first, second, third)] == [200, 200, 200]
    assert {row.ended_at for row in links(morning)} == {None}


def test_a_link_made_by_hand_ends_those_in_letters(morning: Morning, box: Box) -> None:
    press(morning)
    rounds(morning)
    page = morning.see(f"/quotes/{QUOTE}", Role.COUNTER)
    assert "A link made here ends all others, those in letters too." in page.words
    morning.send(f"/quotes/{QUOTE}/link", {}, Role.COUNTER)
    assert opened(morning, link_in(box.letters[0])) == 404


@pytest.mark.usefixtures("box")
def test_the_history_says_that_a_link_left(morning: Morning) -> None:
    press(morning)
    rounds(morning)
    assert f"Ivo put a link for the customer into a letter, {QUOTE}." in morning.see("/orders/2026-1").words


def test_a_test_makes_no_link_and_says_where_it_would_stand(morning: Morning, box: Box) -> None:
    press(morning, f"{MAILS}/test")
    rounds(morning)
    assert links(morning) == []
    for kind in ("plain", "html"):
        words = body_of(box.letters[0], kind)
        assert "(here the customer finds the link to a page of their own)" in words
        assert "http" not in words


def test_a_quote_that_is_agreed_gets_no_link(morning: Morning, box: Box) -> None:
    typed = {"name": "Jorun", "without_deposit": "an old customer"}
    assert morning.send(f"/quotes/{QUOTE}/agreement", typed, Role.COUNTER)[0] == 303
    assert morning.send(MAILS, {"mail_to": "jorun@mueller.example"}, Role.COUNTER)[0] == 303
    assert rounds(morning) == 1
    assert links(morning) == []
    words = body_of(box.letters[0])
    assert "http" not in words
    assert "If all is right, say yes at our counter, or sign the paper and send it back." in words


def test_an_amendment_has_a_link_while_its_order_can_be_amended(morning: Morning, box: Box) -> None:
    typed = {"name": "Jorun", "without_deposit": "an old customer"}
    morning.send(f"/quotes/{QUOTE}/agreement", typed, Role.COUNTER)
    with morning.book() as book:
        made = an_amendment(book, order(book, "2026-1")).number
    assert morning.send(f"/quotes/{made}/mails", {"mail_to": "jorun@mueller.example"}, Role.COUNTER)[0] == 303
    rounds(morning)
    path = link_in(box.letters[0])
    answer = morning.house.browse("POST", path, None, data={"name": "Jorun", "read": "yes", "act": "yes"})
    assert answer.status_code == 200, answer.text
    with morning.book() as book:
        found = order(book, "2026-1").agreement
    assert found is not None
    assert found.quote_number == made


def test_a_quote_superseded_before_its_letter_left_gets_neither_letter_nor_link(
    morning: Morning, box: Box
) -> None:
    press(morning)
    quote_of(morning, "2026-1")
    assert rounds(morning) == 0
    assert (box.letters, links(morning)) == ([], [])


def test_a_letter_file_has_a_link_by_a_press_and_none_by_being_looked_at(morning: Morning) -> None:
    path = f"/quotes/{QUOTE}/letter.eml"
    plain = morning.house.browse("GET", path, headers=morning._cookie(Role.COUNTER))
    assert b"/answer/" not in plain.content
    assert links(morning) == []
    form = morning.see(f"/quotes/{QUOTE}", Role.COUNTER).form(f"/quotes/{QUOTE}/letter")
    assert form.fields == {}
    files = [morning.house.browse("POST", path, headers=morning._cookie(Role.COUNTER)) for _ in range(2)]
    for file in files:
        assert (file.status_code, file.headers["content-type"]) == (200, "message/rfc822")
        assert file.headers["cache-control"] == "no-store"
        assert read(file.content)["X-Unsent"] == "1"
    first, second = (link_in(file.content) for file in files)
    assert first != second
    assert [opened(morning, one) for one in (first, second)] == [200, 200]
    assert not is_in_the_book(morning.house.engine, first.removeprefix("/answer/"))


def test_the_text_of_the_letter_can_be_copied_with_its_link(morning: Morning) -> None:
    status, _, page = morning.send(f"/quotes/{QUOTE}/letter", {}, Role.COUNTER)
    assert status == 200
    words = page.words
    assert "Dear Jorun Müller," in words
    (path,) = set(re.findall(rf"{BASE}(/answer/[A-Za-z0-9_-]+)", words))
    assert opened(morning, path) == 200
    assert "Dear" not in morning.see(f"/quotes/{QUOTE}", Role.COUNTER).words


@pytest.mark.parametrize("path", ["letter", "letter.eml", "link"])
def test_what_does_not_wait_gets_no_link_by_a_press(morning: Morning, path: str) -> None:
    quote_of(morning, "2026-1")
    status, _, page = morning.send(f"/quotes/{QUOTE}/{path}", {}, Role.COUNTER)
    assert status == 409
    assert "No link was made" in page.words
    assert links(morning) == []
