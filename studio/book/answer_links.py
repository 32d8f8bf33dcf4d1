"""The customer's own page: a link to one quote, and the yes or no that is said by it."""

from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.agreed_errors import AnswerLinkSpent
from studio.book.agreements import agree
from studio.book.answer_link_tables import AnswerLinkRow, Reply
from studio.book.audit import note
from studio.book.errors import QuoteAnswered, QuoteExpired, QuoteSuperseded, QuoteUnknown
from studio.book.keys import hash_of, new_key
from studio.book.order_tables import OrderRow
from studio.book.order_writing import one_line
from studio.book.quote_reads import end_of_day, quote
from studio.book.quote_tables import QuotePaperRow, QuoteRow
from studio.book.quote_values import Quote, QuoteKind, QuoteState
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.orders import AMENDABLE, State
from studio.craft.roles import Role

LONGEST_WORDS = 500
LONGEST_NAME = 100


@dataclass(frozen=True, slots=True)
class Answer:
    """What was answered by a link, and when; `name` is as it was typed, `words` go with a no."""

    reply: Reply
    at: datetime
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class AnswerLink:
    """A link as it is opened: its quote, and what was answered by it already."""

    quote: Quote
    answer: Answer | None

    def is_open(self, now: datetime) -> bool:
        """Whether the quote still waits for an answer by it."""
        waits = self.quote.state is QuoteState.OPEN and not self.quote.has_expired(now)
        return waits and (self.answer is None or self.answer.reply is Reply.NO)


def make_answer_link(session: Session, *, number: str, actor: Actor, now: datetime) -> str:
    """The key of a fresh link to a quote that waits for its answer; all older ones of the quote end.

    The key itself is kept nowhere. Raises `QuoteUnknown`, `QuoteAnswered`, `QuoteSuperseded`, `QuoteExpired`.
    """
    with transaction(session):
        row = _waiting(session, number, now)
        for old in session.exec(
            select(AnswerLinkRow).where(
                col(AnswerLinkRow.quote_id) == row.id, col(AnswerLinkRow.ended_at).is_(None)
            )
        ).all():
            old.ended_at = now
            session.add(old)
        return _add_link(session, row, "make an answer link", actor=actor, now=now)


def link_for_letter(session: Session, *, number: str, actor: Actor, now: datetime) -> str:
    """The key of one more link to a quote, for a letter with it. Those made before go on.

    A letter before may have come although nobody knows it, and whoever has two clicks the first. Kept and
    raised as by `make_answer_link`.
    """
    with transaction(session):
        row = _waiting(session, number, now)
        return _add_link(session, row, "put a link in a letter", actor=actor, now=now)


def waits_for_answer(session: Session, number: str, now: datetime) -> bool:
    """Whether a yes by a link would count: the quote is open, and its order where it can be agreed."""
    found = session.exec(
        select(QuoteRow, OrderRow.state)
        .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
        .where(col(QuoteRow.number) == number)
    ).one_or_none()
    if found is None:
        raise QuoteUnknown(number)
    row, state = found
    may_be_agreed = AMENDABLE if row.kind == QuoteKind.AMENDMENT else {State.QUOTED}
    is_good = now < end_of_day(row.valid_until, time_zone(session))
    return row.state == QuoteState.OPEN and is_good and state in may_be_agreed


def answer_link(session: Session, key: str) -> AnswerLink:
    """What the link opens. Raises `AnswerLinkSpent` for a key nobody made, or that another took the place of.

    A link whose quote ended, or was answered, still opens: the page says so.
    """
    row = _link(session, key)
    number = session.exec(select(QuoteRow.number).where(col(QuoteRow.id) == row.quote_id)).one()
    return AnswerLink(quote(session, number), _answer(row))


def say_yes(
    session: Session, *, key: str, name: str, variant: str | None, address: str, now: datetime
) -> AnswerLink:
    """The customer's yes: the order is agreed, its deposit open, as if it had been said at the counter.

    The name, the moment, where it came from, and the hash of the paper are kept. Raises `AnswerLinkSpent`,
    `Refused` without a name, and all that `agree` raises: of two at once one is the yes.
    """
    who = _name(name)
    with transaction(session):
        row = _link(session, key, is_locked=True)
        found = session.get_one(QuoteRow, row.quote_id)
        _check_waits(quote(session, found.number), now)
        agree(session, quote=found.number, name=who, variant=variant, actor=_customer(who), now=now)
        paper = session.exec(
            select(QuotePaperRow.sha256).where(col(QuotePaperRow.quote_id) == found.id)
        ).one_or_none()
        row.reply, row.answered_at, row.name = Reply.YES, now, who
        row.address, row.sha256 = address[:100], paper
        session.add(row)
    return answer_link(session, key)


def say_no(session: Session, *, key: str, words: str, address: str, now: datetime) -> AnswerLink:
    """The customer's no, with a word why; the quote still waits, for the studio to make it anew or ask.

    Saying the same again changes nothing. Raises `AnswerLinkSpent`, `Refused` for words too long, and
    `QuoteAnswered`, `QuoteSuperseded`, `QuoteExpired`.
    """
    why = words.strip()
    if len(why) > LONGEST_WORDS:
        raise Refused(Refusal("words", Why.TOO_LONG, why[:24], high=LONGEST_WORDS, unit="signs"))
    with transaction(session):
        row = _link(session, key, is_locked=True)
        found = session.get_one(QuoteRow, row.quote_id)
        _check_waits(quote(session, found.number), now)
        if (row.reply, row.words) != (Reply.NO, why):
            row.reply, row.answered_at, row.words, row.address = Reply.NO, now, why, address[:100]
            session.add(row)
            new = {"quote": found.number, "words": why}
            note(
                session,
                actor=_customer("the customer"),
                now=now,
                verb="say no by the link",
                order_id=found.order_id,
                new=new,
            )
    return answer_link(session, key)


def answers_to(session: Session, number: str) -> tuple[Answer, ...]:
    """What was answered to a quote by links, the first first."""
    rows = session.exec(
        select(AnswerLinkRow)
        .join(QuoteRow, col(QuoteRow.id) == col(AnswerLinkRow.quote_id))
        .where(col(QuoteRow.number) == number, col(AnswerLinkRow.reply).is_not(None))
        .order_by(col(AnswerLinkRow.answered_at))
    ).all()
    return tuple(found for row in rows if (found := _answer(row)) is not None)


def _waiting(session: Session, number: str, now: datetime) -> QuoteRow:
    """The quote, ours until the transaction ends; only one that waits for its answer."""
    row = session.exec(select(QuoteRow).where(col(QuoteRow.number) == number).with_for_update()).one_or_none()
    if row is None:
        raise QuoteUnknown(number)
    _check_waits(quote(session, number), now)
    return row


def _add_link(session: Session, row: QuoteRow, verb: str, *, actor: Actor, now: datetime) -> str:
    key = new_key()
    session.add(
        AnswerLinkRow(quote_id=row.id, key_hash=hash_of(key), made_at=now, user_id=actor.id, actor=actor.name)
    )
    note(session, actor=actor, now=now, verb=verb, order_id=row.order_id, new={"quote": row.number})
    return key


def _link(session: Session, key: str, *, is_locked: bool = False) -> AnswerLinkRow:
    wanted = select(AnswerLinkRow).where(col(AnswerLinkRow.key_hash) == hash_of(key))
    row = session.exec(wanted.with_for_update() if is_locked else wanted).one_or_none()
    if row is None or row.ended_at is not None:
        raise AnswerLinkSpent
    return row


def _check_waits(found: Quote, now: datetime) -> None:
    if found.state is QuoteState.AGREED:
        raise QuoteAnswered(found.number)
    if found.state is QuoteState.SUPERSEDED:
        raise QuoteSuperseded(found.number, None)
    if found.has_expired(now):
        raise QuoteExpired(found.number, found.valid_until)


def _name(typed: str) -> str:
    who = one_line(typed)
    if who is None:
        raise Refused(Refusal("name", Why.EMPTY))
    if len(who) > LONGEST_NAME:
        raise Refused(Refusal("name", Why.TOO_LONG, who[:24], high=LONGEST_NAME, unit="signs"))
    return who


def _customer(name: str) -> Actor:
    """Who acts by a link: nobody of the studio, with no right beyond the answer itself."""
    return Actor(None, f"{name}, by the link", Role.COUNTER)


def _answer(row: AnswerLinkRow) -> Answer | None:
    if row.reply is None or row.answered_at is None:
        return None
    return Answer(Reply(row.reply), row.answered_at, row.name, row.words)
