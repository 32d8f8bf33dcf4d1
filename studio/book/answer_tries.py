"""What is sent to answer links in masses costs time: keys that open nothing, and noes by one link."""

from datetime import datetime

from sqlmodel import Session

from studio.book.errors import SignInWaits
from studio.book.keys import hash_of
from studio.book.throttle import TryRow, wait_after
from studio.book.transaction import transaction


def refuse_many_keys(session: Session, *, address: str, now: datetime) -> None:
    """Raise `SignInWaits` where earlier wrong keys from this address ask for patience: twenty are free."""
    _refuse(session, _of_keys(address), now)


def count_wrong_key(session: Session, *, address: str, now: datetime) -> None:
    """Write down a key that opened nothing. The tries are forgotten with those of signing in."""
    _count(session, _of_keys(address), now)


def refuse_many_noes(session: Session, *, key: str, now: datetime) -> None:
    """Raise `SignInWaits` where earlier noes by this link ask for patience: twenty are free."""
    _refuse(session, _of_noes(key), now)


def count_no(session: Session, *, key: str, now: datetime) -> None:
    """Write down a no by a link, whatever it says. They are forgotten with the tries of signing in."""
    _count(session, _of_noes(key), now)


def _refuse(session: Session, subject: str, now: datetime) -> None:
    row = session.get(TryRow, subject)
    if row is not None and row.last_at <= now < row.last_at + wait_after("address", row.wrong):
        raise SignInWaits(row.last_at + wait_after("address", row.wrong))


def _count(session: Session, subject: str, now: datetime) -> None:
    with transaction(session):
        row = session.get(TryRow, subject, with_for_update=True) or TryRow(
            subject=subject, wrong=0, last_at=now
        )
        row.wrong, row.last_at = row.wrong + 1, now
        session.add(row)


def _of_keys(address: str) -> str:
    return f"answer {address}"


def _of_noes(key: str) -> str:
    return f"no {hash_of(key)}"
