"""PINs: four to eight digits that say who works on a device of the bench, and open nothing else."""

from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import SignInRefused
from studio.book.passphrases import HASHER, matches
from studio.book.people import UserRow, row_of, users
from studio.book.pin_errors import PinRefused, WhyNoPin
from studio.book.pin_tables import PinRow
from studio.book.throttle import clear_tries, count_wrong_try, refuse_while_waiting
from studio.book.transaction import transaction

FEWEST, MOST = 4, 8
"""Digits. Few enough for dirty hands; what they open, and how often they may be tried, makes up for it."""


@dataclass(frozen=True, slots=True)
class PinHolder:
    """One person, and whether they have a PIN."""

    user_id: int
    name: str
    has_pin: bool


def pin_holders(session: Session) -> tuple[PinHolder, ...]:
    """Everybody who works here, in the order they came."""
    having = set(session.connection().execute(pick(col(PinRow.user_id))).scalars())
    return tuple(PinHolder(user.id, user.name, user.id in having) for user in users(session))


def set_pin(session: Session, *, user_id: int, pin: str, actor: Actor, now: datetime) -> None:
    """Give a person a PIN, in place of the one they had. Raises `UserUnknown` and `PinRefused`."""
    refuse_weak_pin(pin)
    hashed = HASHER.hash(pin)  # before the lock is taken: it takes some 30 ms
    with transaction(session):
        user = row_of(session, user_id)
        session.merge(PinRow(user_id=user_id, pin_hash=hashed, set_at=now))
        note(session, actor=actor, now=now, verb="set a PIN", new={"user": user.name})


def set_own_pin(
    session: Session, *, pin: str, passphrase: str, address: str, actor: Actor, now: datetime
) -> None:
    """Give oneself a PIN, by one's passphrase.

    Raises `PinRefused`, `SignInRefused` for a wrong passphrase and `SignInWaits` after too many.
    """
    refuse_weak_pin(pin)
    refuse_while_waiting(session, name=actor.name, address=address, now=now)
    hashed = row_of(session, actor.id or 0).passphrase_hash
    session.rollback()  # no reading stays open while the passphrase is hashed
    if not matches(hashed, passphrase):
        count_wrong_try(session, name=actor.name, address=address, now=now)
        raise SignInRefused
    with transaction(session):
        clear_tries(session, name=actor.name, address=address, now=now)
        set_pin(session, user_id=actor.id or 0, pin=pin, actor=actor, now=now)


def pin_hash_of(session: Session, user_id: int) -> tuple[str, str] | None:
    """The name and the hash of the PIN of a person who still works here; None without a PIN."""
    found = session.connection().execute(
        pick(col(UserRow.name), col(PinRow.pin_hash))
        .join(PinRow, col(PinRow.user_id) == col(UserRow.id))
        .where(col(UserRow.id) == user_id, col(UserRow.ended_at).is_(None))
    )
    row = found.one_or_none()
    return None if row is None else (row[0], row[1])


def refuse_weak_pin(pin: str) -> None:
    """Raise `PinRefused` for what is not four to eight digits, or would be tried first: 1111, 1234, 9876."""
    if not (pin.isascii() and pin.isdigit() and FEWEST <= len(pin) <= MOST):
        raise PinRefused(WhyNoPin.NOT_DIGITS)
    steps = {int(after) - int(before) for before, after in pairwise(pin)}
    if steps in ({0}, {1}, {-1}):
        raise PinRefused(WhyNoPin.COMMON)
