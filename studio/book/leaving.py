"""When somebody leaves the studio: one verb that closes every way in they had."""

from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.links import end_links
from studio.book.people import row_of
from studio.book.sign_in import end_sign_ins
from studio.book.transaction import transaction


def end_user(session: Session, *, user_id: int, actor: Actor, now: datetime) -> None:
    """Somebody leaves: they sign in no more, and every place they are signed in ends at once.

    Raises `UserUnknown`. Their name is free again for somebody else; what they did stays theirs.
    """
    with transaction(session):
        row = row_of(session, user_id)
        row.ended_at = now
        row.name_folded = f"{row.name_folded} (left {row.id})"
        row.passphrase_hash = None
        session.add(row)
        end_links(session, user_id=user_id, now=now)
        end_sign_ins(session, user_id=user_id)
        note(session, actor=actor, now=now, verb="end a user", old={"name": row.name})
