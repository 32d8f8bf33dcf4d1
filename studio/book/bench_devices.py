"""Devices of the bench: signed in once by a passphrase, and then worked on by whoever types their PIN."""

from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import bindparam, update
from sqlalchemy import select as pick
from sqlalchemy.orm import aliased
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import BookBusy, BookFull
from studio.book.keys import hash_of, new_key
from studio.book.passphrases import matches
from studio.book.people import UserRow, row_of
from studio.book.pin_errors import DeviceUnknown, PinWrong
from studio.book.pin_tables import BenchDeviceRow
from studio.book.pins import pin_hash_of
from studio.book.row_ids import row_by_id
from studio.book.sign_in import sign_out
from studio.book.throttle import clear_tries, count_wrong_try, refuse_while_waiting
from studio.book.transaction import transaction
from studio.craft.roles import Role

IDLE = timedelta(hours=2)
"""After so long without a touch the PIN is asked again: whoever goes home forgets the tablet."""
LASTS = timedelta(days=180)
"""So long a device stays one of the bench before a passphrase is asked on it again."""
LONGEST_NAME = 60
_TOUCH_AFTER = timedelta(minutes=5)


@dataclass(frozen=True, slots=True)
class BenchDevice:
    """A device of the bench as the list shows it: who signed it in and when."""

    id: int
    name: str
    set_up_by: str
    created_at: datetime


@dataclass(frozen=True, slots=True)
class AtDevice:
    """A device that is known, and who works on it; None while nobody does."""

    id: int
    name: str
    maker: Actor | None


def bench_devices(session: Session, *, now: datetime) -> tuple[BenchDevice, ...]:
    """The devices that are still good, the newest first."""
    found = session.connection().execute(
        pick(
            col(BenchDeviceRow.id),
            col(BenchDeviceRow.name),
            col(UserRow.name),
            col(BenchDeviceRow.created_at),
        )
        .join(UserRow, col(UserRow.id) == col(BenchDeviceRow.user_id))
        .where(
            col(BenchDeviceRow.ended_at).is_(None),
            col(BenchDeviceRow.created_at) > now - LASTS,
            col(UserRow.ended_at).is_(None),
        )
        .order_by(col(BenchDeviceRow.id).desc())
    )
    return tuple(BenchDevice(*row) for row in found)


def add_device(session: Session, *, name: str, sign_in_key: str | None, actor: Actor, now: datetime) -> str:
    """Make a device one of the bench, and end the sign-in it was made with; gives the key for its cookie."""
    key = new_key()
    with transaction(session):
        row_of(session, actor.id or 0)
        session.add(BenchDeviceRow(name=name, key_hash=hash_of(key), user_id=actor.id or 0, created_at=now))
        if sign_in_key is not None:
            sign_out(session, key=sign_in_key)
        note(session, actor=actor, now=now, verb="set a device up for the bench", new={"device": name})
    return key


def end_device(session: Session, *, device_id: int, actor: Actor, now: datetime) -> None:
    """Let a device open nothing from now on. Raises `DeviceUnknown`."""
    with transaction(session):
        row = row_by_id(session, BenchDeviceRow, device_id)
        if row is None or row.ended_at is not None:
            raise DeviceUnknown
        row.ended_at, row.maker_id, row.maker_seen_at = now, None, None
        session.add(row)
        note(session, actor=actor, now=now, verb="end a device of the bench", old={"device": row.name})


def at_device(session: Session, *, key: str, now: datetime) -> AtDevice | None:
    """The device of this key and who works on it; None for one that is unknown or ended.

    A device ends with the work of whoever set it up. That somebody is there is written down at most every
    five minutes, so most requests only read.
    """
    found = session.connection().execute(_AT, {"key_hash": hash_of(key)}).one_or_none()
    if found is None or now - found.created_at >= LASTS:
        return None
    seen = found.maker_seen_at
    if found.maker is None or now - seen >= IDLE:
        return AtDevice(found.id, found.name, None)
    if now - seen >= _TOUCH_AFTER:
        with suppress(BookBusy, BookFull), transaction(session):
            session.exec(
                update(BenchDeviceRow)
                .where(col(BenchDeviceRow.id) == found.id, col(BenchDeviceRow.maker_id) == found.maker)
                .values(maker_seen_at=now)
            )
    return AtDevice(found.id, found.name, Actor(found.maker, found.maker_name, Role(found.maker_role)))


_MAKER = aliased(UserRow)
# Every request of the bench asks this: it is put together once.
_AT: Any = (
    pick(
        col(BenchDeviceRow.id),
        col(BenchDeviceRow.name),
        col(BenchDeviceRow.created_at),
        col(BenchDeviceRow.maker_seen_at),
        col(_MAKER.id).label("maker"),
        col(_MAKER.name).label("maker_name"),
        col(_MAKER.role).label("maker_role"),
    )
    .join(UserRow, col(UserRow.id) == col(BenchDeviceRow.user_id))
    .outerjoin(_MAKER, (col(_MAKER.id) == col(BenchDeviceRow.maker_id)) & col(_MAKER.ended_at).is_(None))
    .where(
        col(BenchDeviceRow.key_hash) == bindparam("key_hash"),
        col(BenchDeviceRow.ended_at).is_(None),
        col(UserRow.ended_at).is_(None),
    )
)


def take_over(session: Session, *, key: str, user_id: int, pin: str, now: datetime) -> Actor:
    """Somebody works on the device from now on, by their PIN.

    Raises `DeviceUnknown`, `SignInWaits` after too many wrong tries, and `PinWrong`; a person without a PIN
    takes as long as one with another.
    """
    device = at_device(session, key=key, now=now)
    if device is None:
        raise DeviceUnknown
    known = pin_hash_of(session, user_id)
    name, address = f"pin of {user_id}", f"bench device {device.id}"
    refuse_while_waiting(session, name=name, address=address, now=now)
    session.rollback()  # no reading stays open while the PIN is hashed
    if not matches(None if known is None else known[1], pin):
        count_wrong_try(session, name=name, address=address, now=now)
        raise PinWrong
    with transaction(session):
        clear_tries(session, name=name, address=address, now=now, is_shared=True)
        user = row_of(session, user_id)
        actor = Actor(user.id, user.name, Role(user.role))
        row = _device(session, key)
        row.maker_id, row.maker_seen_at = user_id, now
        session.add(row)
        note(session, actor=actor, now=now, verb="sign in at the bench", new={"device": row.name})
    return actor


def step_away(session: Session, *, key: str, actor: Actor, now: datetime) -> None:
    """Nobody works on the device any more, until the next PIN. Raises `DeviceUnknown`."""
    with transaction(session):
        row = _device(session, key)
        row.maker_id, row.maker_seen_at = None, None
        session.add(row)
        note(session, actor=actor, now=now, verb="step away from the bench", old={"device": row.name})


def _device(session: Session, key: str) -> BenchDeviceRow:
    wanted = select(BenchDeviceRow).where(
        col(BenchDeviceRow.key_hash) == hash_of(key), col(BenchDeviceRow.ended_at).is_(None)
    )
    row = session.exec(wanted).one_or_none()
    if row is None:
        raise DeviceUnknown
    return row
