"""Opening the book: SQLite by default, PostgreSQL by its address."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError
from sqlmodel import Session

from studio.book.errors import LibraryTooOld

BUSY_TIMEOUT_MS = 5_000
PROCESS_CONNECTIONS = 20
"""How many connections one process opens to a server at most; PostgreSQL as installed takes 100 in all."""
OLDEST_SQLITE = (3, 35, 0)
"""The first SQLite that knows RETURNING, by which numbers are given (its release notes, 2021-03-12)."""
WRITES = "studio_writes"
"""The execution option of a connection that is about to write."""
_WRITERS_LOCK = 0x5348414E4B
"""The key of the lock that writers of a PostgreSQL book take in turn, the letters SHANK."""


def check_library(version: tuple[int, ...] = sqlite3.sqlite_version_info) -> None:
    """Raise `LibraryTooOld` for an SQLite older than `OLDEST_SQLITE`: it would take no order."""
    if version < OLDEST_SQLITE:
        raise LibraryTooOld(version, OLDEST_SQLITE)


def journal_mode(version: tuple[int, ...] = sqlite3.sqlite_version_info) -> str:
    """The journal for this SQLite library: 'wal' where it is free of the WAL-reset fault, else 'delete'.

    The fault can lose committed pages when two connections write and checkpoint at once. It is in 3.7.0 to
    3.51.2; 3.50.7 and 3.44.6 carry the fix as back-ports (release notes of SQLite). So 3.40.1 gives
    'delete', and 3.51.3 gives 'wal'.
    """
    is_fixed_branch = any(version[:2] == fix[:2] and version >= fix for fix in ((3, 44, 6), (3, 50, 7)))
    return "wal" if version > (3, 51, 2) or is_fixed_branch else "delete"


def open_book(url: str) -> Engine:
    """The engine for the book at `url` ('sqlite:////home/maren/shankwright/book.db').

    On SQLite every connection checks foreign keys, waits `BUSY_TIMEOUT_MS` for a writer and syncs each commit
    to the disk (FULL), since an acknowledged order must outlive a power cut. On PostgreSQL
    ('postgresql://studio@db.example/book') a reader sees one state of the book from first row to last, and
    writers take turns, as they do in a file: every verb may look first and write then. Nothing is read or
    made yet. Raises SQLAlchemy's `ArgumentError` for an address of anything else, and where the driver is
    not installed, and `LibraryTooOld` for a file where the SQLite at hand is.
    """
    address = make_url(url)
    if address.get_backend_name() != "sqlite":
        return _open_server(address)
    check_library()
    engine = create_engine(address, connect_args={"timeout": BUSY_TIMEOUT_MS / 1000})
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


@contextmanager
def session(engine: Engine) -> Iterator[Session]:
    """A session for one request. Leaving it ends what was only read; only `transaction` commits."""
    with Session(engine, expire_on_commit=False) as opened:
        yield opened


def _open_server(address: URL) -> Engine:
    if address.drivername not in {"postgresql", "postgresql+psycopg"}:
        raise ArgumentError("a book lies in a file or in PostgreSQL, at sqlite:///… or postgresql://…")
    try:
        engine = create_engine(
            address.set(drivername="postgresql+psycopg"),
            pool_pre_ping=True,
            pool_size=PROCESS_CONNECTIONS,
            max_overflow=0,
            isolation_level="REPEATABLE READ",
        )
    except ModuleNotFoundError as error:
        raise ArgumentError(
            "PostgreSQL is reached by a driver; install it with pip install 'shankwright[postgresql]'"
        ) from error
    event.listen(engine, "connect", _prepare_on_server)
    event.listen(engine, "begin", _begin_on_server)
    return engine


def _prepare_on_server(connection: Any, _record: object) -> None:
    # Readers wait as well, where another program changes the tables themselves as it migrates the book.
    connection.execute(f"SET lock_timeout = {BUSY_TIMEOUT_MS}").close()
    connection.commit()


def _begin_on_server(connection: Connection) -> None:
    if not connection.get_execution_options().get(WRITES, False):
        return
    # Each statement of a writer sees what was saved before it: a state kept from before the wait for the lock
    # would be an old one. The lock is let go by the end of the transaction, or of the connection.
    connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL READ COMMITTED")
    connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITERS_LOCK})")


def _prepare(connection: Any, _record: object) -> None:
    # The driver's own implicit BEGIN is switched off: it would start transactions behind our back, deferred.
    connection.isolation_level = None
    wanted = journal_mode()
    for pragma in (
        "foreign_keys = ON",
        f"busy_timeout = {BUSY_TIMEOUT_MS}",
        "synchronous = FULL",
        "mmap_size = 0",
        "trusted_schema = OFF",
    ):
        connection.execute(f"PRAGMA {pragma}").close()
    # Asking costs nothing; changing takes an exclusive lock, so it happens only where it must.
    (current,) = connection.execute("PRAGMA journal_mode").fetchone()
    if current != wanted:
        connection.execute(f"PRAGMA journal_mode = {wanted}").close()


def _begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get(WRITES, False)
    # A writer takes its lock at once: one that read first and wrote later would be refused without a wait.
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
