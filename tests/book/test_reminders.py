"""Whom to remind, and reminders in the outbox: due when queued and still due when they leave."""

from datetime import timedelta

import pytest
from sqlmodel import Session

from studio.book.errors import OrderUnknown
from studio.book.in_hand import in_hand
from studio.book.order_list_values import HandWhy
from studio.book.orders import order
from studio.book.outbox import (
    is_mail_due,
    note_handed_over,
    note_not_handed_over,
    queue_again,
    take_mail,
)
from studio.book.outbox_errors import NothingToRemind, RemindedLately
from studio.book.outbox_values import PAUSES, About, Mail, MailKind, MailState
from studio.book.owed import owed
from studio.book.people import PROGRAM, Actor
from studio.book.quotes import agree, quote
from studio.book.reminder_reads import ToRemind, to_remind
from studio.book.reminders import (
    LATELY,
    Reminding,
    queue_reminder,
    quote_to_remind_of,
    reminders_of,
    take_reminder_along,
    to_remind_of,
)
from studio.craft.roles import Role
from tests.amending import LATER, NARROWER, changing, issued
from tests.builders import NOW, TODAY, an_order
from tests.quoting import a_quote, a_yes, an_amendment, paid, put_figures
from tests.reminding import TO, a_balance, an_ending_quote, an_open_deposit

SENDER = "book@wrenfold.example"
People = dict[Role, Actor]


@pytest.fixture
def book(session: Session) -> Session:
    put_figures(session, on=TODAY - timedelta(days=30), now=NOW - timedelta(days=30))
    put_figures(session)
    return session


def listed(book: Session, about: About) -> list[ToRemind]:
    return list(to_remind(book, about, today=TODAY).items)


def asked(number: str, about: About, words: str = "A word.") -> Reminding:
    return Reminding(number, about, TO, "A subject", words)


def order_owing(book: Session, about: About) -> str:
    if about is About.QUOTE:
        return an_ending_quote(book)
    return an_open_deposit(book) if about is About.DEPOSIT else a_balance(book)


def queued(book: Session, number: str, about: About, words: str = "A word.", **more: object) -> Mail:
    facts = {"is_again": False, "actor": PROGRAM, "now": NOW} | more
    return queue_reminder(book, asked=asked(number, about, words), sender=SENDER, **facts)  # type: ignore[arg-type]  # by name


@pytest.mark.parametrize(("days", "count"), [(4, 0), (3, 1), (0, 1), (-1, 1), (-14, 1), (-15, 0)])
def test_quotes_that_end_within_three_days_or_ended_within_fourteen(
    book: Session, days: int, count: int
) -> None:
    number = an_ending_quote(book, days=days)
    found = listed(book, About.QUOTE)
    assert [line.number for line in found] == [number] * count
    for line in found:
        assert (line.quote, line.email, line.until) == (f"{number}-q1", TO, TODAY + timedelta(days=days))
        assert line.amounts_minor == (quote(book, f"{number}-q1").total_minor,)


def test_an_amendment_that_is_about_to_end_is_in_the_list(book: Session) -> None:
    stands = a_yes(book, a_quote(book, an_order(book)))
    made = an_amendment(book, stands)
    assert listed(book, About.QUOTE) == []
    late = to_remind(book, About.QUOTE, today=made.valid_until)
    assert [line.quote for line in late.items] == [made.number]


def test_open_deposits_with_what_is_open_of_them(book: Session) -> None:
    part = an_open_deposit(book, paid_minor=100)
    a_yes(book, a_quote(book, an_order(book)))
    a_yes(book, a_quote(book, an_order(book)), deposit_minor=None, without_deposit="an old customer")
    (line,) = listed(book, About.DEPOSIT)
    assert (line.number, line.since) == (part, NOW)
    assert line.amounts_minor == (quote(book, f"{part}-q1").deposit_minor - 100,)


def test_balances_of_what_is_ready_and_not_paid(book: Session) -> None:
    number = a_balance(book)
    a_balance(book, is_paid=True)
    an_open_deposit(book)
    (line,) = listed(book, About.BALANCE)
    made = quote(book, f"{number}-q1")
    assert (line.number, line.amounts_minor) == (number, (made.total_minor - made.deposit_minor,))


def test_what_is_owed_is_the_order_s_own_balance_also_after_an_amendment(book: Session) -> None:
    stands = a_yes(book, a_quote(book, an_order(book)))
    number, first = stands.number, stands.agreement
    assert first is not None
    agree(
        book,
        quote=issued(book, stands, changing(stands, **NARROWER)).number,
        name="Jorun",
        actor=PROGRAM,
        now=LATER,
    )
    now_agreed = order(book, number).agreement
    assert now_agreed is not None
    assert now_agreed.total_minor != first.total_minor
    due = owed(book, [number, "2026-999"])
    assert list(due) == [number]
    assert due[number].balance_minor == now_agreed.total_minor - (first.paid_minor)
    assert due[number].deposit_minor == 0


def test_a_list_goes_on_by_number_with_the_most_pressing_of_a_page_first(book: Session) -> None:
    numbers = [an_ending_quote(book, days=days) for days in (3, 1, 2, 0, -2)]
    found, after = [], None
    for length in (2, 2, 1):
        page = to_remind(book, About.QUOTE, today=TODAY, after=after, limit=2)
        assert len(page.items) == length
        assert [line.until for line in page.items] == sorted(line.until for line in page.items if line.until)
        found += [line.number for line in page.items]
        after = page.next
    assert after is None
    assert sorted(found) == sorted(numbers)


def test_a_reminder_is_queued_taken_and_handed_over_as_it_was_read(book: Session) -> None:
    number = an_open_deposit(book)
    mail = queued(book, number, About.DEPOSIT, "Dear Jorun,\n\na word.")
    assert (mail.kind, mail.about, mail.state) == (MailKind.REMINDER, About.DEPOSIT, MailState.QUEUED)
    assert is_mail_due(book, now=NOW)
    taken = take_mail(book, now=NOW)
    assert taken is not None
    assert (taken.about, taken.subject, taken.words) == (
        About.DEPOSIT, "A subject", "Dear Jorun,\n\na word.",
    )  # fmt: skip
    assert note_handed_over(book, taken=taken, answer="250 queued", now=NOW)
    assert quote(book, f"{number}-q1").sendings == ()  # the quote itself did not go out
    (line,) = listed(book, About.DEPOSIT)
    assert [(one.state, one.to) for one in line.reminded] == [(MailState.HANDED_OVER, TO)]
    assert order(book, number).history[-1].verb == "queue a reminder mail"
    assert order(book, number).history[-1].new == {"quote": f"{number}-q1", "about": "deposit"}


def test_nobody_is_reminded_twice_within_a_day_unless_it_is_meant(book: Session) -> None:
    number = an_open_deposit(book)
    queued(book, number, About.DEPOSIT)
    with pytest.raises(RemindedLately) as refused:
        queued(book, number, About.DEPOSIT, now=NOW + LATELY - timedelta(seconds=1))
    assert refused.value.at == NOW
    with pytest.raises(RemindedLately):
        take_reminder_along(
            book, asked=asked(number, About.DEPOSIT), sender=SENDER, is_again=False, actor=PROGRAM, now=NOW
        )
    queued(book, number, About.DEPOSIT, is_again=True)
    queued(book, number, About.DEPOSIT, now=NOW + LATELY)
    assert len(reminders_of(book, number, About.DEPOSIT)) == 3


def test_a_refused_reminder_reminded_nobody_and_one_of_something_else_is_another(book: Session) -> None:
    number = a_balance(book)
    queued(book, number, About.BALANCE)
    taken = take_mail(book, now=NOW)
    assert taken is not None
    note_not_handed_over(book, taken=taken, answer="550 no", is_final=True, now=NOW)
    queued(book, number, About.BALANCE)
    an_amendment(book, order(book, number))
    queued(book, number, About.QUOTE)


def test_one_taken_along_is_noted_and_never_sent(book: Session) -> None:
    number = a_balance(book)
    mail = take_reminder_along(
        book, asked=asked(number, About.BALANCE), sender=SENDER, is_again=False, actor=PROGRAM, now=NOW
    )
    assert (mail.state, mail.settled_at) == (MailState.TAKEN, NOW)
    assert not is_mail_due(book, now=NOW + LATELY)
    assert order(book, number).history[-1].verb == "take a reminder along"


def test_a_reminder_waits_longer_every_time_and_is_refused_in_the_end(book: Session) -> None:
    number = an_open_deposit(book)
    queued(book, number, About.DEPOSIT)
    now = NOW
    for pause in (*PAUSES, timedelta()):
        taken = take_mail(book, now=now)
        assert taken is not None
        note_not_handed_over(book, taken=taken, answer="451 later", is_final=False, now=now)
        now += pause
    (mail,) = reminders_of(book, number, About.DEPOSIT)
    assert (mail.state, mail.tries) == (MailState.REFUSED, len(PAUSES) + 1)


@pytest.mark.parametrize("about", list(About))
def test_what_came_before_the_reminder_left_keeps_it_here(book: Session, about: About) -> None:
    number = order_owing(book, about)
    made = quote(book, f"{number}-q1")
    queued(book, number, about)
    if about is About.QUOTE:
        agree(book, quote=made.number, name="Jorun", actor=PROGRAM, now=NOW)
    else:
        paid(book, number, order(book, number).account.left_minor)
    assert take_mail(book, now=NOW) is None
    (mail,) = reminders_of(book, number, about)
    assert (mail.state, mail.settled_at, mail.answer) == (MailState.NOT_NEEDED, NOW, "")
    assert order(book, number).history[-1].verb == "drop a reminder"
    with pytest.raises(NothingToRemind):
        queued(book, number, about)
    assert HandWhy.MAIL_REFUSED not in {line.hand.why for line in in_hand(book, today=TODAY, now=NOW)}


def test_an_ended_quote_may_be_reminded_of_but_not_of_its_page(book: Session) -> None:
    number = an_ending_quote(book, days=0)
    queued(book, number, About.QUOTE, "Say it on [link].")
    later = NOW + timedelta(days=2)
    assert take_mail(book, now=later) is None
    (mail,) = reminders_of(book, number, About.QUOTE)
    assert (mail.state, mail.answer) == (MailState.REFUSED, "Not sent: the quote has run out.")
    queued(book, number, About.QUOTE, "It has ended.", now=later)
    assert take_mail(book, now=later) is not None


def test_a_refused_reminder_is_in_hand_while_it_is_due_and_can_be_sent_again(book: Session) -> None:
    def refused() -> list[tuple[str, About | None]]:
        return [
            (line.number, line.mail.about)
            for line in in_hand(book, today=TODAY, now=NOW)
            if line.hand.why is HandWhy.MAIL_REFUSED and line.mail is not None
        ]

    number = an_open_deposit(book)
    made = quote(book, f"{number}-q1")
    for _ in range(2):
        mail = queued(book, number, About.DEPOSIT)
        taken = take_mail(book, now=NOW)
        assert taken is not None
        note_not_handed_over(book, taken=taken, answer="550 no such box", is_final=True, now=NOW)
        assert refused() == [(number, About.DEPOSIT)]  # the later one alone
    again = queue_again(book, number=made.number, mail_id=mail.id, actor=PROGRAM, now=NOW)
    assert again.state is MailState.QUEUED
    assert refused() == []
    taken = take_mail(book, now=NOW)
    assert taken is not None
    note_not_handed_over(book, taken=taken, answer="550 no such box", is_final=True, now=NOW)
    paid(book, number, made.deposit_minor)
    assert refused() == []
    with pytest.raises(NothingToRemind):
        queue_again(book, number=made.number, mail_id=mail.id, actor=PROGRAM, now=NOW)


def test_an_order_that_is_none_is_told(book: Session) -> None:
    with pytest.raises(OrderUnknown):
        queued(book, "2026-999", About.QUOTE)


@pytest.mark.parametrize("about", About)
def test_what_the_order_says_is_due_is_what_a_reminder_may_ask_for(book: Session, about: About) -> None:
    number = order_owing(book, about)
    found = to_remind_of(order(book, number))
    assert about in found
    for one in About:
        if one in found:
            quote_to_remind_of(book, number, one)
        else:
            with pytest.raises(NothingToRemind):
                quote_to_remind_of(book, number, one)
