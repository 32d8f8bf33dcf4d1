"""The outbox: letters queued by a person, handed to the mail server by the serving process."""

import secrets
from datetime import datetime
from typing import Any

from sqlalchemy import Select, or_
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.actor import PROGRAM, Actor
from studio.book.audit import note
from studio.book.errors import QuoteSuperseded, QuoteUnknown
from studio.book.outbox_errors import MailNotRefused, MailUnknown, QuoteRunOut
from studio.book.outbox_tables import OutboxRow
from studio.book.outbox_values import LEASE, LINK_HERE, PAUSES, About, Mail, MailKind, MailState, TakenMail
from studio.book.quote_reads import mail_of, quote
from studio.book.quote_tables import QuoteRow
from studio.book.quote_values import Quote, QuoteState, SentHow
from studio.book.quotes import note_sent
from studio.book.reminders import check_still_due, is_still_due
from studio.book.standing import standing_quotes
from studio.book.transaction import transaction
from studio.craft.roles import Role

_DUE = (
    pick(col(OutboxRow.id))
    .where(col(OutboxRow.state) == MailState.QUEUED)
    .order_by(col(OutboxRow.next_try_at), col(OutboxRow.id))
    .limit(1)
)


def check_it_can_go(session: Session, number: str, *, now: datetime) -> Quote:
    """The quote, where it may still go to the customer: it stands, and it has not run out or is agreed.

    Raises `QuoteUnknown`, `QuoteSuperseded` and `QuoteRunOut`.
    """
    found = quote(session, number)
    if found.state is QuoteState.SUPERSEDED:
        order_id = session.exec(select(QuoteRow.order_id).where(col(QuoteRow.number) == number)).one()
        standing = standing_quotes(session, order_id)
        raise QuoteSuperseded(number, standing[0].number if standing else None)
    if found.state is QuoteState.OPEN and found.has_expired(now):
        raise QuoteRunOut(number, found.valid_until)
    return found


def queue_mail(
    session: Session, *, number: str, to: str, kind: MailKind, sender: str, actor: Actor, now: datetime
) -> Mail:
    """Put a letter with a quote into the outbox, to the address `to`; `sender` is the studio's own address.

    Raises what `check_it_can_go` raises.
    """
    with transaction(session):
        found = check_it_can_go(session, number, now=now)
        row = _quote_row(session, number)
        mail = OutboxRow(
            quote_id=row.id,
            to_address=to,
            kind=kind,
            next_try_at=now,
            message_id=f"<quote-{found.number}.{secrets.token_hex(12)}@{sender.rpartition('@')[2]}>",
            queued_at=now,
            user_id=actor.id,
            actor=actor.name,
        )
        session.add(mail)
        session.flush()
        _note(session, row, f"queue a {kind} mail", actor=actor, now=now)
    return mail_of(mail)


def queue_again(session: Session, *, number: str, mail_id: int, actor: Actor, now: datetime) -> Mail:
    """Let a refused letter be tried again, the same letter under the same Message-ID.

    Raises `MailUnknown`, `MailNotRefused`, what `check_it_can_go` raises, and `NothingToRemind`.
    """
    with transaction(session):
        row = _quote_row(session, number)
        mail = session.get(OutboxRow, mail_id)
        if mail is None or mail.quote_id != row.id:
            raise MailUnknown(number, mail_id)
        if mail.about is not None:
            check_still_due(session, row.id, About(mail.about))
        if mail.about is None or _goes_with_link(mail):
            check_it_can_go(session, number, now=now)
        if mail.state != MailState.REFUSED:
            raise MailNotRefused(number)
        mail.state, mail.tries, mail.settled_at, mail.taken_until = MailState.QUEUED, 0, None, None
        mail.queued_at = mail.next_try_at = now
        mail.user_id, mail.actor = actor.id, actor.name
        session.add(mail)
        _note(session, row, f"queue a {mail.kind} mail", about=mail.about, actor=actor, now=now)
    return mail_of(mail)


def is_mail_due(session: Session, *, now: datetime) -> bool:
    """Whether a letter waits to be taken: what is asked before the book is locked for it."""
    return session.connection().execute(_due(now)).first() is not None


def take_mail(session: Session, *, now: datetime) -> TakenMail | None:
    """The next letter that is due, this process's alone for as long as `LEASE`; None where none is.

    Whether its quote may still go is looked at again: a letter that may not, or was taken too often without
    an end, is refused here. No entry in the history: nothing has happened to the quote yet.
    """
    while True:
        with transaction(session):
            mail_id = session.connection().execute(_due(now)).scalar()
            if mail_id is None:
                return None
            mail = session.get_one(OutboxRow, mail_id)
            number = session.get_one(QuoteRow, mail.quote_id).number
            if mail.about is not None and not is_still_due(session, mail.quote_id, About(mail.about)):
                _drop(session, mail, now=now)
                continue
            why = _held_back(session, mail, number, now)
            if why:
                _settle(session, mail, why, now=now)
                continue
            mail.tries += 1
            mail.taken_until = now + LEASE
            session.add(mail)
        return TakenMail(
            mail.id,
            number,
            MailKind(mail.kind),
            mail.to_address,
            mail.message_id,
            mail.tries,
            mail.queued_at,
            Actor(mail.user_id, mail.actor, Role.COUNTER),
            None if mail.about is None else About(mail.about),
            mail.subject,
            mail.words,
        )


def note_handed_over(session: Session, *, taken: TakenMail, answer: str, now: datetime) -> bool:
    """The mail server has the letter: a quote's is noted as a sending, in the name of who queued it.

    False where the letter is not this try's any more, because its lease ran out; nothing is noted then.
    """
    with transaction(session):
        mail = _held(session, taken)
        if mail is None:
            return False
        mail.state, mail.last_answer = MailState.HANDED_OVER, answer
        mail.settled_at, mail.next_try_at, mail.taken_until = now, None, None
        session.add(mail)
        if mail.kind == MailKind.QUOTE:
            note_sent(session, number=taken.quote, how=SentHow.MAIL, to=taken.to, actor=taken.actor, now=now)
    return True


def note_not_handed_over(
    session: Session, *, taken: TakenMail, answer: str, is_final: bool, now: datetime
) -> bool:
    """The letter was not taken: it is refused where that `is_final`, else it waits for its next try.

    The pauses grow; after the last of `PAUSES` it is refused. False as with `note_handed_over`.
    """
    with transaction(session):
        mail = _held(session, taken)
        if mail is None:
            return False
        if is_final or mail.tries > len(PAUSES):
            _settle(session, mail, answer, now=now)
        else:
            mail.last_answer, mail.taken_until = answer, None
            mail.next_try_at = now + PAUSES[mail.tries - 1]
            session.add(mail)
    return True


def _due(now: datetime) -> Select[Any]:
    return _DUE.where(
        col(OutboxRow.next_try_at) <= now,
        or_(col(OutboxRow.taken_until).is_(None), col(OutboxRow.taken_until) <= now),
    )


def _held_back(session: Session, mail: OutboxRow, number: str, now: datetime) -> str:
    """Why a letter does not go after all, '' where it may."""
    try:
        if mail.about is None or _goes_with_link(mail):
            check_it_can_go(session, number, now=now)
    except QuoteSuperseded:
        return "Not sent: the quote no longer stands."
    except QuoteRunOut:
        return "Not sent: the quote has run out."
    return "Not sent: every try ended before there was an answer." if mail.tries > len(PAUSES) else ""


def _goes_with_link(mail: OutboxRow) -> bool:
    """Whether a reminder speaks of a page to answer on, which an ended quote has not."""
    return mail.about == About.QUOTE and LINK_HERE in mail.words


def _drop(session: Session, mail: OutboxRow, *, now: datetime) -> None:
    """Let a reminder be whose quote was answered, or whose amount was paid, before it left."""
    mail.state, mail.settled_at, mail.next_try_at, mail.taken_until = MailState.NOT_NEEDED, now, None, None
    session.add(mail)
    row = session.get_one(QuoteRow, mail.quote_id)
    _note(session, row, "drop a reminder", about=mail.about, actor=PROGRAM, now=now)


def _held(session: Session, taken: TakenMail) -> OutboxRow | None:
    """The letter, where it is still as it was taken."""
    mail = session.get_one(OutboxRow, taken.id)
    is_same = (mail.tries, mail.queued_at) == (taken.tries, taken.queued_at)
    return mail if mail.state == MailState.QUEUED and is_same else None


def _settle(session: Session, mail: OutboxRow, answer: str, *, now: datetime) -> None:
    mail.state, mail.last_answer = MailState.REFUSED, answer
    mail.settled_at, mail.next_try_at, mail.taken_until = now, None, None
    session.add(mail)
    row = session.get_one(QuoteRow, mail.quote_id)
    _note(session, row, "refuse a mail", about=mail.about, actor=PROGRAM, now=now)


def _note(
    session: Session, row: QuoteRow, verb: str, *, actor: Actor, now: datetime, about: str | None = None
) -> None:
    """One entry in the order's history, which everybody reads: without an address or the server's words."""
    new = {"quote": row.number} if about is None else {"quote": row.number, "about": about}
    note(session, actor=actor, now=now, verb=verb, order_id=row.order_id, new=new)


def _quote_row(session: Session, number: str) -> QuoteRow:
    row = session.exec(select(QuoteRow).where(col(QuoteRow.number) == number)).one_or_none()
    if row is None:
        raise QuoteUnknown(number)
    return row
