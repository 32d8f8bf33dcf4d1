"""Keys of answer links that open nothing: many of them from one address cost time."""

from datetime import datetime

from sqlmodel import Session

from studio.book.errors import SignInWaits
from studio.book.throttle import TryRow, wait_after
from studio.book.transaction import transaction


def refuse_many_keys(session: Session, *, address: str, now: datetime) -> None:
    """Raise `SignInWaits` where earlier wrong keys from this address ask for patience: twenty are free."""
    row = session.get(TryRow, _subject(address))
    if row is not None and row.last_at <= now < row.last_at + wait_after("address", row.wrong):
        raise SignInWaits(row.last_at + wait_after("address", row.wrong))


def count_wrong_key(session: Session, *, address: str, now: datetime) -> None:
    """Write down a key that opened nothing. The tries are forgotten with those of signing in."""
    with transaction(session):
        subject = _subject(address)
        row = session.get(TryRow, subject, with_for_update=True) or TryRow(
            subject=subject, wrong=0, last_at=now
        )
        row.wrong, row.last_at = row.wrong + 1, now
        session.add(row)


def _subject(address: str) -> str:
    return f"answer {address}"
