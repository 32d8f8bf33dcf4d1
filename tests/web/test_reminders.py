"""Reminders the whole way: found, read, changed, sent or taken along, and what the pages say then."""

import pytest

from studio.book.orders import order
from studio.book.quotes import quote, quote_pdf
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import an_order
from tests.mail_server import Box
from tests.quoting import a_quote, a_yes, an_amendment
from tests.reminding import TO, a_balance, an_ending_quote, an_open_deposit
from tests.web.mailing import (
    BASE,
    body_of,
    is_in_the_book,
    link_in,
    read,
    rounds,
)
from tests.web.morning import Morning
from tests.web.quoting import state_of
from tests.web.reminders import box, morning, page_of, sent, without_mail

__all__ = ["box", "morning"]


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
