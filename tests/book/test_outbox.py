"""Letters in the outbox: taken by one at a time, tried again with growing pauses, refused with the words."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime, timedelta
from threading import Barrier

import pytest
from sqlalchemy import Engine
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.errors import BookBusy, QuoteSuperseded, QuoteUnknown
from studio.book.in_hand import in_hand
from studio.book.order_list_values import HandWhy
from studio.book.orders import order
from studio.book.outbox import (
    is_mail_due,
    note_handed_over,
    note_not_handed_over,
    queue_again,
    queue_mail,
    take_mail,
)
from studio.book.outbox_errors import MailNotRefused, MailUnknown, QuoteRunOut
from studio.book.outbox_values import LEASE, PAUSES, Mail, MailKind, MailState, TakenMail
from studio.book.people import Actor
from studio.book.quotes import SentHow, quote
from studio.craft.roles import Role
from tests.builders import NOW, TODAY
from tests.quoting import a_quote, put_figures

TO, SENDER = "jorun@mueller.example", "book@wrenfold.example"
NUMBER = "2026-1-q1"
Letters = dict[Role, Actor]


@pytest.fixture
def people(session: Session, people: Letters) -> Letters:
    put_figures(session)
    a_quote(session)
    return people


def queued(
    session: Session, people: Letters, *, kind: MailKind = MailKind.QUOTE, now: datetime = NOW
) -> Mail:
    return queue_mail(
        session, number=NUMBER, to=TO, kind=kind, sender=SENDER, actor=people[Role.COUNTER], now=now
    )


def taken_at(session: Session, now: datetime = NOW) -> TakenMail:
    found = take_mail(session, now=now)
    assert found is not None
    return found


def the_mail(session: Session) -> Mail:
    (found,) = quote(session, NUMBER).mails
    return found


def verbs(session: Session) -> list[tuple[str, str]]:
    return [(line.verb, line.actor) for line in order(session, "2026-1").history]


def test_a_letter_waits_and_is_handed_over_and_the_quote_is_noted_as_sent(
    session: Session, people: Letters
) -> None:
    assert not is_mail_due(session, now=NOW)
    mail = queued(session, people)
    assert (mail.state, mail.tries, mail.to, mail.next_try_at) == (MailState.QUEUED, 0, TO, NOW)
    assert is_mail_due(session, now=NOW)
    taken = taken_at(session)
    assert (taken.quote, taken.to, taken.tries) == (NUMBER, TO, 1)
    assert taken.message_id.startswith(f"<quote-{NUMBER}.")
    assert taken.message_id.endswith("@wrenfold.example>")
    assert quote(session, NUMBER).sendings == ()
    then = NOW + timedelta(seconds=2)
    assert note_handed_over(session, taken=taken, answer="250 queued", now=then)
    mail = the_mail(session)
    assert (mail.state, mail.settled_at, mail.next_try_at) == (MailState.HANDED_OVER, then, None)
    (sending,) = quote(session, NUMBER).sendings
    assert (sending.how, sending.sent_to, sending.at, sending.actor) == (SentHow.MAIL, TO, then, mail.actor)
    who = people[Role.COUNTER].name
    assert verbs(session)[-2:] == [("queue a quote mail", who), ("send a quote", who)]
    assert take_mail(session, now=NOW + 10 * LEASE) is None


def test_a_test_is_no_sending(session: Session, people: Letters) -> None:
    queued(session, people, kind=MailKind.TEST)
    assert note_handed_over(session, taken=taken_at(session), answer="250 queued", now=NOW)
    assert quote(session, NUMBER).sendings == ()
    assert the_mail(session).state is MailState.HANDED_OVER


def test_a_letter_that_is_put_off_waits_longer_every_time_and_is_refused_in_the_end(
    session: Session, people: Letters
) -> None:
    queued(session, people)
    now = NOW
    names = set()
    for pause in PAUSES:
        taken = taken_at(session, now)
        names.add(taken.message_id)
        assert note_not_handed_over(session, taken=taken, answer="451 later", is_final=False, now=now)
        mail = the_mail(session)
        assert (mail.state, mail.next_try_at, mail.answer) == (MailState.QUEUED, now + pause, "451 later")
        assert take_mail(session, now=now + pause - timedelta(seconds=1)) is None
        now += pause
    assert list(PAUSES) == sorted(PAUSES)
    assert (PAUSES[0], PAUSES[-1]) == (timedelta(minutes=1), timedelta(hours=24))
    last = taken_at(session, now)
    assert names == {last.message_id}
    note_not_handed_over(session, taken=last, answer="451 still", is_final=False, now=now)
    mail = the_mail(session)
    assert (mail.state, mail.answer, mail.tries) == (MailState.REFUSED, "451 still", len(PAUSES) + 1)


def test_a_refused_letter_is_in_hand_until_it_is_sent_again(session: Session, people: Letters) -> None:
    def refused() -> list[tuple[str, str, str]]:
        return [
            (line.mail.quote, line.mail.to, line.mail.answer)
            for line in in_hand(session, today=TODAY, now=NOW)
            if line.hand.why is HandWhy.MAIL_REFUSED and line.mail is not None
        ]

    mail = queued(session, people)
    assert refused() == []
    first = taken_at(session)
    note_not_handed_over(session, taken=first, answer="550 no such box", is_final=True, now=NOW)
    assert refused() == [(NUMBER, TO, "550 no such box")]
    assert verbs(session)[-1] == ("refuse a mail", "shankwright")
    again = queue_again(session, number=NUMBER, mail_id=mail.id, actor=people[Role.OWNER], now=NOW)
    assert (again.id, again.state, again.tries) == (mail.id, MailState.QUEUED, 0)
    assert refused() == []
    with pytest.raises(MailNotRefused):
        queue_again(session, number=NUMBER, mail_id=mail.id, actor=people[Role.OWNER], now=NOW)
    second = taken_at(session)
    assert second.message_id == first.message_id
    note_not_handed_over(session, taken=second, answer="550 no such box", is_final=True, now=NOW)
    queued(session, people)  # to another address: the refused one is no longer what matters
    assert refused() == []
    with pytest.raises(MailUnknown):
        queue_again(session, number=NUMBER, mail_id=mail.id + 9, actor=people[Role.OWNER], now=NOW)


def test_a_refused_test_is_nothing_for_the_day(session: Session, people: Letters) -> None:
    queued(session, people, kind=MailKind.TEST)
    note_not_handed_over(session, taken=taken_at(session), answer="550 no", is_final=True, now=NOW)
    assert HandWhy.MAIL_REFUSED not in {line.hand.why for line in in_hand(session, today=TODAY, now=NOW)}


def test_a_letter_taken_is_nobody_else_s_until_its_lease_is_over(session: Session, people: Letters) -> None:
    queued(session, people)
    first = taken_at(session)
    assert not is_mail_due(session, now=NOW + LEASE / 2)
    assert take_mail(session, now=NOW + LEASE / 2) is None
    second = taken_at(session, NOW + LEASE)  # the process fell before it noted anything
    assert second == replace(first, tries=2)
    assert not note_handed_over(session, taken=first, answer="250 late", now=NOW + LEASE)
    assert not note_not_handed_over(session, taken=first, answer="451", is_final=True, now=NOW + LEASE)
    assert the_mail(session).state is MailState.QUEUED
    assert note_handed_over(session, taken=second, answer="250 queued", now=NOW + LEASE)
    assert len(quote(session, NUMBER).sendings) == 1


def test_a_letter_nobody_ever_came_to_an_end_with_is_refused(session: Session, people: Letters) -> None:
    queued(session, people)
    now = NOW
    for _ in range(len(PAUSES) + 1):
        taken_at(session, now)
        now += LEASE
    assert take_mail(session, now=now) is None
    assert the_mail(session).answer == "Not sent: every try ended before there was an answer."


def test_a_quote_that_no_longer_stands_is_not_sent(session: Session, people: Letters) -> None:
    queued(session, people)
    a_quote(session, order(session, "2026-1"))
    with pytest.raises(QuoteSuperseded):
        queued(session, people)
    assert take_mail(session, now=NOW) is None
    mail = the_mail(session)
    assert (mail.state, mail.answer, mail.tries) == (
        MailState.REFUSED, "Not sent: the quote no longer stands.", 0,
    )  # fmt: skip
    with pytest.raises(QuoteSuperseded):
        queue_again(session, number=NUMBER, mail_id=mail.id, actor=people[Role.OWNER], now=NOW)


def test_a_quote_that_has_run_out_is_not_sent(session: Session, people: Letters) -> None:
    queued(session, people)
    later = NOW + timedelta(days=30)
    with pytest.raises(QuoteRunOut):
        queued(session, people, now=later)
    assert take_mail(session, now=later) is None
    assert the_mail(session).answer == "Not sent: the quote has run out."


def test_a_quote_that_is_none_is_not_queued(session: Session, people: Letters) -> None:
    with pytest.raises(QuoteUnknown):
        queue_mail(
            session,
            number="2026-9-q9",
            to=TO,
            kind=MailKind.QUOTE,
            sender=SENDER,
            actor=people[Role.OWNER],
            now=NOW,
        )


def test_of_many_who_look_at_once_each_letter_is_taken_by_one(
    engine: Engine, session: Session, people: Letters
) -> None:
    for _ in range(3):
        queued(session, people)
    session.rollback()  # what was read so far keeps nobody waiting
    barrier = Barrier(6)

    def look(_: int) -> list[str]:
        barrier.wait()
        found = list[str]()
        with engines.session(engine) as own:
            while True:
                try:
                    taken = take_mail(own, now=NOW)
                except BookBusy:
                    continue
                if taken is None:
                    return found
                found.append(taken.message_id)

    with ThreadPoolExecutor(6) as pool:
        told = [name for found in pool.map(look, range(6)) for name in found]
    assert len(told) == len(set(told)) == 3
