"""Reminders the whole way: found, read, changed, sent or taken along, and what the pages say then."""

import re
from dataclasses import replace
from datetime import timedelta

import pytest

from studio.book.orders import CustomerDraft, order
from studio.book.quotes import quote, quote_pdf
from studio.craft.orders import State
from studio.craft.roles import Role
from studio.web.app import create_app
from tests.builders import NOW, an_order
from tests.mail_server import Box
from tests.quoting import a_quote, a_yes, an_amendment, put_figures
from tests.reminding import TO, a_balance, an_ending_quote, an_open_deposit
from tests.web.house import House, settings
from tests.web.mailing import (
    BASE,
    HEADS_OF_THEIR_OWN,
    app_with,
    body_of,
    box,
    is_in_the_book,
    link_in,
    read,
    rounds,
)
from tests.web.morning import Morning, a_morning
from tests.web.quoting import give_an_address, state_of

__all__ = ["box"]


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch, box: Box) -> Morning:
    """A studio that can quote and mail, without an order yet."""
    opened = a_morning(replace(house, app=app_with(house, box.server())), monkeypatch)
    with opened.book() as book:
        put_figures(book, on=(NOW - timedelta(days=30)).date(), now=NOW - timedelta(days=30))
        put_figures(book)
        give_an_address(book)
    return opened


def page_of(number: str, kind: str) -> str:
    return f"/orders/{number}/reminders/{kind}"


def sent(morning: Morning, number: str, kind: str, act: str = "", **typed: str) -> tuple[int, str]:
    """What the app answers a press: the status, and the words of the page that came back instead."""
    path = page_of(number, kind)
    form = morning.see(path, Role.COUNTER).form(path)
    status, _, page = morning.send(path + act, form.filled(**typed), Role.COUNTER)
    return status, page.words


def without_mail(morning: Morning) -> None:
    house = morning.house
    morning.house = replace(house, app=create_app(settings(house.home), house.engine))


def test_the_page_says_whom_to_remind_and_is_reached_from_in_hand_and_orders(morning: Morning) -> None:
    empty = morning.see("/reminders", Role.COUNTER).words
    for told in ("No quote ends within three days", "No agreed order waits", "Nothing is to be paid"):
        assert told in empty
    with morning.book() as book:
        ending, deposit, balance = an_ending_quote(book), an_open_deposit(book), a_balance(book)
    page = morning.see("/reminders", Role.COUNTER)
    for told in (
        f"{ending}-q1, £",
        "ends Fri 27 Nov",
        "of the deposit agreed 10:00 Not reminded yet",
        "to pay ready 10:00 Not reminded yet",
    ):
        assert told in page.words
    for number, kind in ((ending, "quote"), (deposit, "deposit"), (balance, "balance")):
        assert page.link(f"Read the reminder: Jorun Müller, {number}") == page_of(number, kind)
        here = morning.see(f"/orders/{number}", Role.COUNTER).link(f"Remind of the {kind}")
        assert here == page_of(number, kind)
        assert f"Remind of the {kind}" not in morning.see(f"/orders/{number}", Role.MAKER).words
    for path in ("/", "/orders"):
        words = "Remind customers of quotes, deposits and balances"
        assert morning.see(path, Role.COUNTER).link(words) == "/reminders"
        assert words not in morning.see(path, Role.MAKER).words


def test_a_list_that_is_long_goes_on_by_a_link(morning: Morning, monkeypatch: pytest.MonkeyPatch) -> None:
    with morning.book() as book:
        numbers = [an_open_deposit(book) for _ in range(3)]
    monkeypatch.setattr("studio.book.reminder_reads.to_remind.__kwdefaults__", {"after": None, "limit": 2})
    more = morning.see("/reminders", Role.COUNTER).link("More of these: Open deposits")
    assert more == f"/reminders?kind=deposit&after={numbers[1]}"
    page = morning.see(more, Role.COUNTER)
    assert numbers[2] in page.words
    assert numbers[0] not in page.words
    assert page.link("All reminders") == "/reminders"


def test_a_quote_s_reminder_is_changed_and_sent_with_paper_and_link_and_answered_by_it(
    morning: Morning, box: Box
) -> None:
    with morning.book() as book:
        number = an_ending_quote(book)
    page = morning.see(page_of(number, "quote"), Role.COUNTER)
    words = page.form(page_of(number, "quote")).fields["words"]
    for told in ("Dear Jorun Müller,", f"our quote {number}-q1 for your ring, £", "[link]", "A flat band, 6"):
        assert told in words
    assert "holds until Friday, 27 November 2026." in words
    status, _ = sent(morning, number, "quote", words=words.replace("Dear Jorun", "My dear Jorun"))
    assert status == 303
    assert rounds(morning) == 1
    (letter,) = box.letters
    message = read(letter)
    assert message["Subject"] == f"Your quote {number}-q1 from Wrenfold, goldsmiths"
    assert [one.addr_spec for one in message["To"].addresses] == [TO]
    said = body_of(letter)
    path = link_in(letter)
    assert said.startswith("My dear Jorun Müller,\n\nour quote")
    assert f"on your own page:\n{BASE}{path}\n" in said
    assert "[link]" not in said
    (paper,) = message.iter_attachments()
    assert paper.get_filename() == f"quote-{number}-q1.pdf"
    with morning.book() as book:
        assert paper.get_payload(decode=True) == quote_pdf(book, f"{number}-q1")
    assert not is_in_the_book(morning.house.engine, path.removeprefix("/answer/"))
    listed = morning.see("/reminders", Role.COUNTER).words
    assert "Handed to the mail server 10:00" in listed
    assert f"Handed to the mail server 10:00, to {TO}, Ivo" in morning.see(page_of(number, "quote")).words
    assert "Ivo gave a reminder to the outbox, of the quote" in morning.see(f"/orders/{number}").words
    assert f"a reminder of the quote, to {TO}, Ivo" in morning.see(f"/quotes/{number}-q1").words
    answer = morning.house.browse(
        "POST", path, None, data={"name": "Jorun Müller", "read": "yes", "act": "yes"}
    )
    assert answer.status_code == 200
    assert state_of(morning, number) is State.AGREED


def test_a_deposit_s_and_a_balance_s_reminder_name_amount_and_day_and_have_no_paper(
    morning: Morning, box: Box
) -> None:
    with morning.book() as book:
        deposit, balance = an_open_deposit(book), a_balance(book)
        asked, rest = quote(book, f"{deposit}-q1"), quote(book, f"{balance}-q1")
    for number, kind in ((deposit, "deposit"), (balance, "balance")):
        assert sent(morning, number, kind)[0] == 303
    assert rounds(morning) == 2
    first, second = (body_of(letter) for letter in box.letters)
    open_words = f"£{asked.deposit_minor / 100:,.2f}"
    assert f"The deposit of {open_words} is still open. We begin once it is paid." in first
    assert f"£{(rest.total_minor - rest.deposit_minor) / 100:,.2f} is still to be paid" in second
    assert f"your ring has been ready since Wednesday, 25 November 2026, order {balance}." in second
    for letter in box.letters:
        assert list(read(letter).iter_attachments()) == []
        assert "/answer/" not in body_of(letter)
    assert [read(letter)["Subject"] for letter in box.letters] == [
        f"The deposit for your ring, order {deposit}",
        f"Your ring is ready, order {balance}",
    ]


def test_an_ended_quote_is_reminded_of_without_a_page_to_answer_on(morning: Morning, box: Box) -> None:
    with morning.book() as book:
        number = an_ending_quote(book, days=-3)
    assert sent(morning, number, "quote", words="Say it on [link].")[0] == 422
    assert sent(morning, number, "quote")[0] == 303
    assert rounds(morning) == 1
    said = body_of(box.letters[0])
    assert "held until Sunday, 22 November 2026." in said
    assert "If you would still like it, tell us, and we write it anew." in said
    assert "/answer/" not in said
    assert len(list(read(box.letters[0]).iter_attachments())) == 1


def test_an_amendment_is_called_what_it_is(morning: Morning) -> None:
    with morning.book() as book:
        stands = a_yes(book, a_quote(book, an_order(book)))
        made = an_amendment(book, stands).number
    form = morning.see(page_of(stands.number, "quote"), Role.COUNTER).form(page_of(stands.number, "quote"))
    assert f"our amendment {made} for your ring" in form.fields["words"]


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


def test_programs_list_and_send_reminders(morning: Morning, box: Box) -> None:
    ask = morning.house.ask
    with morning.book() as book:
        deposit, balance = an_open_deposit(book), a_balance(book)
        due = quote(book, f"{deposit}-q1").deposit_minor
    told = ask("GET", "/api/reminders", Role.COUNTER).json()
    assert [(one["about"], one["order"]) for one in told["items"]] == [
        ("deposit", deposit), ("balance", balance),
    ]  # fmt: skip
    assert (told["items"][0]["amounts_minor"], told["items"][0]["last"], told["more"]) == ([due], None, [])
    address = f"/api/orders/{deposit}/reminders"
    key = {"Idempotency-Key": "once"}
    twice = [
        ask("POST", address, Role.COUNTER, json={"kind": "deposit", "words": "A word."}, headers=key)
        for _ in range(2)
    ]
    assert [answer.status_code for answer in twice] == [202, 202]
    assert twice[0].json() == twice[1].json()
    assert (twice[0].json()["about"], twice[0].json()["state"], twice[0].json()["to"]) == (
        "deposit", "queued", TO,
    )  # fmt: skip
    assert ask("POST", address, Role.COUNTER, json={"kind": "deposit"}).status_code == 409
    assert ask("POST", address, Role.COUNTER, json={"kind": "deposit", "again": True}).status_code == 202
    assert rounds(morning) == 2
    assert body_of(box.letters[0]) == "A word.\n"
    (line, _) = ask("GET", "/api/reminders", Role.COUNTER).json()["items"]
    assert line["last"]["state"] == "handed over"
    page = ask("GET", "/api/reminders?kind=balance&limit=1", Role.COUNTER).json()
    assert [one["order"] for one in page["items"]] == [balance]
    for query in ("kind=thanks", "after=2026-1", "kind=quote&after=x"):
        assert ask("GET", f"/api/reminders?{query}", Role.COUNTER).status_code == 422
    for body, field in (({}, "kind"), ({"kind": "deposit", "to": "nobody", "again": True}, "to")):
        answer = ask("POST", address, Role.COUNTER, json=body)
        assert (answer.status_code, answer.json()["errors"][0]["field"]) == (422, field)
    assert ask("POST", address, Role.COUNTER, json={"kind": "balance"}).status_code == 409
    without_mail(morning)
    told = morning.house.ask("POST", address, Role.COUNTER, json={"kind": "deposit", "again": True})
    assert told.status_code == 409
    with morning.book() as book:
        assert order(book, deposit).state is State.AGREED
