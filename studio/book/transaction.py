"""The only commit of the book."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, OperationalError
from sqlmodel import Session

from studio.book.engine import WRITES
from studio.book.errors import BookBusy, BookFull, BookGone

_IS_OPEN = "studio_transaction_is_open"
_IS_SPOILED = "studio_transaction_is_spoiled"
_SERVER_BUSY = frozenset({"55P03", "40P01", "40001"})
"""PostgreSQL's lock_not_available, deadlock_detected and serialization_failure (its manual, appendix A)."""
_SERVER_FULL = "53100"
"""PostgreSQL's disk_full, from the same table."""
_SERVER_GONE = ("08", "57P", "53300")
"""How its codes begin where it is not to be reached: lost connections, stops and starts, too many callers."""


@contextmanager
def transaction(session: Session) -> Iterator[None]:
    """All that is written inside is saved at its end, or none of it.

    Re-entrant: a verb may call another; the outermost one commits. If an inner one failed, the outer one
    cannot commit any more, even where the failure was caught: half a verb is never saved. Whatever the
    session had read before is forgotten and read again under the lock. Raises `BookBusy` when the lock does
    not come free in time, `BookFull` when the disk is full, and `BookGone` when the server is not there.
    """
    if session.info.get(_IS_OPEN, False):
        with _spoiling(session):
            yield
        return
    if session.new or session.dirty or session.deleted:
        raise RuntimeError("something was changed outside a transaction")
    session.rollback()  # ends the reading so far, and with it the chance of an old version
    session.info.update({_IS_OPEN: True, _IS_SPOILED: False})
    try:
        session.connection(execution_options={WRITES: True})
        with _spoiling(session):
            yield
        _commit(session)
    except OperationalError as error:
        raise in_words(error) from error
    finally:
        session.rollback()  # of nothing, after the commit
        session.info[_IS_OPEN] = False


@contextmanager
def _spoiling(session: Session) -> Iterator[None]:
    is_whole = False
    try:
        yield
        is_whole = True
    finally:
        session.info[_IS_SPOILED] |= not is_whole


def _commit(session: Session) -> None:
    if session.info[_IS_SPOILED]:
        raise RuntimeError("an inner verb failed, so nothing of the outer one is saved")
    try:
        session.commit()
    except OperationalError as error:
        if isinstance(in_words(error), BookGone):
            raise BookGone(is_saved=None) from error
        raise


def in_words(error: DBAPIError) -> Exception:
    """`BookBusy`, `BookFull` or `BookGone` where the database says so, else the error as it is."""
    state = getattr(error.orig, "sqlstate", None)  # PostgreSQL's, five signs
    code = getattr(error.orig, "sqlite_errorcode", 0) & 0xFF  # the extended codes share their low byte
    if code in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED} or state in _SERVER_BUSY:
        return BookBusy()
    if is_gone(error):
        return BookGone()
    return BookFull() if code == sqlite3.SQLITE_FULL or state == _SERVER_FULL else error


def is_gone(error: DBAPIError) -> bool:
    """Whether a server could not be reached, or was lost on the way; a file is always there."""
    if isinstance(error.orig, sqlite3.Error):
        return False
    state = getattr(error.orig, "sqlstate", None)
    # Without a code it was the driver that found nobody to speak to.
    return error.connection_invalidated or state is None or state.startswith(_SERVER_GONE)
