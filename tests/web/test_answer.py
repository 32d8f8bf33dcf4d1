"""The customer's own page: what it shows, how it is answered, and what changes nothing."""

import hashlib
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from sqlmodel import select

from studio.book.answer_link_tables import AnswerLinkRow
from studio.book.answer_links import answers_to
from studio.book.orders import order
from studio.craft.missing import Deposit
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW
from tests.web.answering import NUMBER, QUOTE, a_link, morning, opened, sent, yes
from tests.web.morning import Morning
from tests.web.quoting import quote_of, state_of
from tests.web.shown import Shown

__all__ = ["morning"]


def test_the_page_shows_the_quote_without_anybody_signed_in(morning: Morning) -> None:
    answer = opened(morning, a_link(morning))
    words = Shown(answer).words
    assert answer.status_code == 200
    for said in ("Your ring, Jorun Müller", f"Quote {QUOTE}, of 25 November 2026", "Before you say yes"):
        assert said in words
    assert "hammered all round by hand" in words
    assert "Measured on 25 November with a gauge 6 mm wide" in words
    assert "In hand" not in words


def test_nobody_else_learns_the_address_and_nothing_keeps_the_page(morning: Morning) -> None:
    headers = opened(morning, a_link(morning)).headers
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["cache-control"] == "no-store"
    assert "noindex" in headers["x-robots-tag"]


def test_only_the_hash_of_a_link_is_kept(morning: Morning) -> None:
    key = a_link(morning).removeprefix("/answer/")
    assert len(key) * 6 >= 128
    with morning.book() as book:
        (row,) = book.exec(select(AnswerLinkRow)).all()
    assert row.key_hash == hashlib.sha256(key.encode()).hexdigest()
    assert key not in repr(row)
    paper = morning.house.ask("GET", f"/quotes/{QUOTE}.pdf").content
    assert key.encode() not in paper


def test_a_yes_agrees_the_order_with_its_deposit_open(morning: Morning) -> None:
    path = a_link(morning)
    paper = hashlib.sha256(opened(morning, f"{path}/quote.pdf").content).hexdigest()
    answer = sent(morning, path, **yes())
    assert answer.status_code == 200
    assert "You said yes on" in Shown(answer).words
    with morning.book() as book:
        found = order(book, NUMBER)
        (row,) = book.exec(select(AnswerLinkRow)).all()
    assert (found.state, found.agreed_name) == (State.AGREED, "Jorun Müller")
    assert found.agreement is not None
    assert found.agreement.deposit is Deposit.OPEN
    assert found.agreement.noted_by == "Jorun Müller, by the link"
    assert (row.reply, row.sha256, row.name) == ("yes", paper, "Jorun Müller")
    assert row.address


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"act": "yes", "name": "", "read": "yes"}, "f-name-wrong"),
        ({"act": "yes", "name": "Jorun"}, None),
        ({"act": "yes", "name": "x" * 101, "read": "yes"}, "f-name-wrong"),
        ({}, "f-name-wrong"),
    ],
)
def test_a_yes_wants_a_name_and_a_tick(morning: Morning, fields: dict[str, str], field: str | None) -> None:
    answer = sent(morning, a_link(morning), **fields)
    assert answer.status_code == 422
    page = Shown(answer)
    assert "to put right" in page.words
    if field is not None:
        assert page.by_id(field)
    assert state_of(morning, NUMBER) is State.QUOTED


@pytest.mark.parametrize("presses", [False, True], ids=["no button", "each button"])
def test_what_follows_links_and_sends_forms_as_served_changes_nothing(
    morning: Morning,
    presses: bool,  # noqa: FBT001  what the machine does
) -> None:
    path = a_link(morning)
    for _ in range(2):
        page = Shown(opened(morning, path))
        assert len(page.forms) == 2
        hrefs = [href for _, href in page.links if not href.startswith("#")]
        assert f"{path}/quote.pdf" in hrefs
        assert {opened(morning, href).status_code for href in hrefs} == {200}
        for form in page.forms:
            assert not form.fields.get("name")
            assert not form.fields.get("words")
            assert "read" not in form.fields
            pressed = form.buttons.values() if presses else [("", "")]
            for name, value in pressed:
                given = form.fields | ({name: value} if name else {})
                assert sent(morning, path, **given).status_code == 422
    with morning.book() as book:
        found = order(book, NUMBER)
        assert found.state is State.QUOTED
        assert answers_to(book, QUOTE) == ()
        assert found.history[-1].verb == "make an answer link"
    assert "said no" not in morning.see("/").words


def test_of_two_yeses_at_once_one_counts(morning: Morning) -> None:
    path = a_link(morning)
    with ThreadPoolExecutor(2) as both:
        answers = list(both.map(lambda name: sent(morning, path, **yes(name)), ("Jorun", "Hanne")))
    assert sorted(answer.status_code for answer in answers) == [200, 409]
    with morning.book() as book:
        found = order(book, NUMBER)
    assert found.agreed_name in {"Jorun", "Hanne"}
    assert len([line for line in found.history if line.verb == "note the yes"]) == 1


def test_a_no_is_told_to_the_studio_with_its_words_and_the_quote_still_waits(morning: Morning) -> None:
    path = a_link(morning)
    assert sent(morning, path, act="no", words="A little narrower, please.").status_code == 200
    assert "A little narrower, please." in morning.see(f"/quotes/{QUOTE}").words
    assert "said no" in morning.see(f"/orders/{NUMBER}").words
    in_hand = morning.see("/", Role.COUNTER)
    assert "The customer said no to the quote: A little narrower, please." in in_hand.words
    assert in_hand.link("Read the answer: Jorun Müller, 2026-1") == f"/quotes/{QUOTE}#link-heading"
    maker = morning.see("/", Role.MAKER).words
    assert "The customer said no to the quote." in maker
    assert "narrower" not in maker, "it may speak of the price"
    assert sent(morning, path, **yes()).status_code == 200, "they may still say yes"
    assert state_of(morning, NUMBER) is State.AGREED
    assert "said no" not in morning.see("/").words


def test_a_no_wants_a_word(morning: Morning) -> None:
    answer = sent(morning, a_link(morning), act="no", words=" \n")
    assert answer.status_code == 422
    assert Shown(answer).by_id("f-words-wrong")
    with morning.book() as book:
        assert answers_to(book, QUOTE) == ()


def test_a_yes_is_told_to_the_studio_at_once(morning: Morning) -> None:
    assert sent(morning, a_link(morning), **yes()).status_code == 200
    for role in Role:
        words = morning.see("/", role).words
        assert "Agreed, but the deposit is open." in words
        assert NUMBER in words.partition("Said yes")[2]


def test_a_new_link_ends_the_one_before(morning: Morning) -> None:
    first, second = a_link(morning), a_link(morning)
    assert opened(morning, first).status_code == 404
    assert opened(morning, second).status_code == 200


def test_the_link_is_bound_to_one_revision(morning: Morning) -> None:
    path = a_link(morning)
    quote_of(morning, NUMBER)
    answer = opened(morning, path)
    assert "This quote no longer stands." in Shown(answer).words
    assert sent(morning, path, **yes()).status_code == 409
    assert state_of(morning, NUMBER) is State.QUOTED


def test_the_link_ends_with_the_quote(morning: Morning) -> None:
    path = a_link(morning)
    morning.turn_to(NOW + timedelta(days=15))
    assert "This quote has ended." in Shown(opened(morning, path)).words
    assert sent(morning, path, **yes()).status_code == 409


def test_wrong_links_from_one_address_cost_time(morning: Morning) -> None:
    codes = [opened(morning, f"/answer/{'x' * 30}{at}").status_code for at in range(30)]
    assert codes[:20] == [404] * 20
    assert 429 in codes
    assert set(codes) <= {404, 429}


@pytest.mark.parametrize("key", ["short", "x" * 500, "..%2f..%2fetc", "%ff" * 20])
def test_what_is_no_key_opens_nothing(morning: Morning, key: str) -> None:
    assert opened(morning, f"/answer/{key}").status_code in {404, 405}


def test_a_choice_is_answered_by_naming_one(morning: Morning) -> None:
    form = morning.see(f"/orders/{NUMBER}", Role.COUNTER).form(f"/orders/{NUMBER}/variants")
    assert morning.send(form.action, form.fields, Role.COUNTER)[0] == 303
    made = quote_of(morning, NUMBER)
    path = a_link(morning, made)
    missed = sent(morning, path, **yes())
    assert missed.status_code == 422
    assert Shown(missed).by_id("f-variant-wrong")
    assert sent(morning, path, **yes(variant="b")).status_code == 200
    with morning.book() as book:
        found = order(book, NUMBER)
    assert found.agreement is not None
    assert found.agreement.variant == "b"


def test_the_page_tells_how_to_look_after_the_ring(morning: Morning) -> None:
    words = Shown(opened(morning, a_link(morning))).words
    assert "The care of the ring" in words
    assert "Take the ring off for heavy work" in words
