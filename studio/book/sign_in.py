"""Signing in with name and passphrase, and staying signed in: sessions are kept here, not in the cookie."""

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Text, bindparam, delete, update
from sqlalchemy import select as pick
from sqlmodel import Field, Session, col

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import BookBusy, BookFull, SignInRefused, UserUnknown
from studio.book.keys import hash_of, new_key
from studio.book.passphrases import HASHER, matches
from studio.book.people import UserRow, user_row
from studio.book.throttle import clear_tries, count_wrong_try, refuse_while_waiting
from studio.book.transaction import transaction
from studio.book.types import Moment, Row
from studio.craft.roles import Role

IDLE = timedelta(hours=8)
"""A studio's day: somebody who steps away over lunch is still there, overnight nobody is."""
LONGEST = timedelta(days=7)
_TOUCH_AFTER = timedelta(minutes=5)


class SignInRow(Row, table=True):
    """One place where somebody is signed in. The cookie's key is kept only as a hash."""

    __tablename__ = "sign_ins"

    id: int = Field(default=None, primary_key=True)
    user_id: int = Field(foreign_key="users.id", index=True)
    key_hash: str = Field(sa_type=Text, unique=True)
    created_at: datetime = Field(sa_type=Moment)
    seen_at: datetime = Field(sa_type=Moment)


@dataclass(frozen=True, slots=True)
class SignedIn:
    """A fresh sign-in: the key for the cookie, told this once, who it is, and when it ends at the latest."""

    key: str
    actor: Actor
    ends_at: datetime


def sign_in(session: Session, *, name: str, passphrase: str, address: str, now: datetime) -> SignedIn:
    """Sign somebody in from `address`, with a new key each time.

    Raises `SignInWaits` after too many wrong tries (see `throttle`), else `SignInRefused` where name and
    passphrase do not belong together; both take as long for an unknown name.
    """
    refuse_while_waiting(session, name=name, address=address, now=now)
    try:
        known: UserRow | None = user_row(session, name)
    except UserUnknown:
        known = None
    hashed = known.passphrase_hash if known is not None else None
    session.rollback()  # no reading stays open while the passphrase is hashed
    if hashed is None or not matches(hashed, passphrase):
        if hashed is None:
            matches(None, passphrase)  # an unknown name takes as long as a known one
        count_wrong_try(session, name=name, address=address, now=now)
        raise SignInRefused
    fresh = HASHER.hash(passphrase) if HASHER.check_needs_rehash(hashed) else hashed
    with transaction(session):
        row = user_row(session, name)
        row.passphrase_hash = fresh
        session.add(row)
        clear_tries(session, name=name, address=address, now=now)
        signed_in = open_sign_in(session, user_id=row.id, now=now)
        note(session, actor=signed_in.actor, now=now, verb="sign in")
    return signed_in


def open_sign_in(session: Session, *, user_id: int, now: datetime) -> SignedIn:
    """A new sign-in for a person whose right to it was checked already. Old ones that ran out are swept."""
    key = new_key()
    with transaction(session):
        row = session.get_one(UserRow, user_id)
        session.exec(delete(SignInRow).where(col(SignInRow.seen_at) < now - IDLE))
        session.add(SignInRow(user_id=user_id, key_hash=hash_of(key), created_at=now, seen_at=now))
        actor = Actor(row.id, row.name, Role(row.role))
    return SignedIn(key, actor, now + LONGEST)


def who(session: Session, *, key: str, now: datetime) -> Actor | None:
    """Who is signed in by this key, or None: unknown, idle for `IDLE`, or older than `LONGEST`.

    That somebody is there is written down at most every five minutes, so most requests only read.
    """
    found = session.connection().execute(_WHO, {"key_hash": hash_of(key)}).one_or_none()
    if found is None or now - found.seen_at >= IDLE or now - found.created_at >= LONGEST:
        return None
    actor = Actor(found.id, found.name, Role(found.role))
    if now - found.seen_at >= _TOUCH_AFTER:
        # Who only wants to read does so on a full disk too, and while somebody else writes for long.
        with suppress(BookBusy, BookFull), transaction(session):
            session.exec(update(SignInRow).where(col(SignInRow.key_hash) == hash_of(key)).values(seen_at=now))
    return actor


# Every request asks this: it is put together once, and read without a row's object.
_WHO = (
    pick(
        col(UserRow.id),
        col(UserRow.name),
        col(UserRow.role),
        col(SignInRow.seen_at),
        col(SignInRow.created_at),
    )
    .join(SignInRow, col(SignInRow.user_id) == col(UserRow.id))
    .where(col(SignInRow.key_hash) == bindparam("key_hash"), col(UserRow.ended_at).is_(None))
)


def sign_out(session: Session, *, key: str) -> None:
    """End this one sign-in. An unknown key is nothing to complain about."""
    with transaction(session):
        session.exec(delete(SignInRow).where(col(SignInRow.key_hash) == hash_of(key)))


def end_sign_ins(session: Session, *, user_id: int) -> None:
    """End every sign-in of a person, wherever they are."""
    with transaction(session):
        session.exec(delete(SignInRow).where(col(SignInRow.user_id) == user_id))
