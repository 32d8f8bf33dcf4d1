"""Wrong tries at signing in cost time, and a stranger's tries do not lock the owner out.

Three things are counted: this name from this address, anything from this address, and this name from
anywhere. The last is not asked where the person has signed in from before, so that somebody far away who
tries the owner's name all night slows only themselves and other strangers.
"""

from datetime import datetime, timedelta

from sqlalchemy import Index, Text, delete
from sqlmodel import Field, Session, col, select

from studio.book.errors import SignInWaits
from studio.book.folding import folded
from studio.book.transaction import transaction
from studio.book.types import Moment, Row

_FREE_TRIES = {"pair": 5, "address": 20, "name": 20}
_LONGEST_WAIT = timedelta(minutes=15)
_FORGOTTEN_AFTER = timedelta(hours=12)
_KNOWN_FOR = timedelta(days=60)
_SET_BACK = timedelta(minutes=1)
"""A try so far ahead was made before the clock was set back: nobody waits until the clock is there again."""


class TryRow(Row, table=True):
    """How many wrong tries in a row, counted by `subject` ('pair maren 192.0.2.7'), and when the last was."""

    __tablename__ = "sign_in_tries"
    __table_args__ = (Index(None, "last_at"),)

    subject: str = Field(sa_type=Text, primary_key=True)
    wrong: int
    last_at: datetime = Field(sa_type=Moment)


class KnownAddressRow(Row, table=True):
    """An address somebody signed in from."""

    __tablename__ = "known_addresses"

    name_folded: str = Field(sa_type=Text, primary_key=True)
    address: str = Field(sa_type=Text, primary_key=True)
    seen_at: datetime = Field(sa_type=Moment)


def wait_after(kind: str, wrong: int) -> timedelta:
    """How long to wait after `wrong` tries: nothing for the free ones, then 2, 4, 8 s ... up to 15 minutes.

    A pair of name and address has 5 free tries: the sixth wrong one costs 2 s, the ninth 16 s.
    """
    over = wrong - _FREE_TRIES[kind]
    return timedelta(0) if over <= 0 else min(timedelta(seconds=2.0 ** min(over, 12)), _LONGEST_WAIT)


def refuse_while_waiting(session: Session, *, name: str, address: str, now: datetime) -> None:
    """Raise `SignInWaits` where earlier wrong tries ask for patience; a try made meanwhile does not count."""
    known = session.get(KnownAddressRow, (folded(name), address))
    is_known = known is not None and now - known.seen_at < _KNOWN_FOR
    subjects = _subjects(name, address)
    found = session.exec(select(TryRow).where(col(TryRow.subject).in_(subjects))).all()
    ends = [
        row.last_at + wait_after(kind, row.wrong)
        for row in found
        if ((kind := row.subject.split(" ", 1)[0]) != "name" or not is_known)
        and row.last_at <= now + _SET_BACK
    ]
    if ends and max(ends) > now:
        raise SignInWaits(max(ends))


def count_wrong_try(session: Session, *, name: str, address: str, now: datetime) -> None:
    """Write down a wrong try. Tries are forgotten twelve hours after the last."""
    with transaction(session):
        session.exec(delete(TryRow).where(col(TryRow.last_at) < now - _FORGOTTEN_AFTER))
        for subject in _subjects(name, address):
            row = session.get(TryRow, subject, with_for_update=True) or TryRow(
                subject=subject, wrong=0, last_at=now
            )
            row.wrong, row.last_at = row.wrong + 1, now
            session.add(row)


def clear_tries(session: Session, *, name: str, address: str, now: datetime, is_shared: bool = False) -> None:
    """A right passphrase: this name's tries from here are forgotten, and the address is known from now on.

    Where the address `is_shared`, as a device that several use all day, the tries of all from there are
    forgotten as well; those at another's name still count for that name.
    """
    pair, anything, _ = _subjects(name, address)
    with transaction(session):
        forgotten = [pair, anything] if is_shared else [pair]
        session.exec(delete(TryRow).where(col(TryRow.subject).in_(forgotten)))
        session.merge(KnownAddressRow(name_folded=folded(name), address=address, seen_at=now))


def _subjects(name: str, address: str) -> tuple[str, str, str]:
    bare = folded(name)[:80]
    return f"pair {bare} {address}", f"address {address}", f"name {bare}"
