"""Putting a copy in the place of a book, or in an empty folder to see that it is good."""

import fcntl
import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path

from sqlalchemy import Engine, func
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.backups import sync, why_not_written
from studio.book.customer_tables import CustomerRow
from studio.book.document_tables import DocumentPaperRow, DocumentRow
from studio.book.engine import open_book, session
from studio.book.errors import RestoreRefused
from studio.book.order_tables import OrderRow
from studio.book.quote_tables import QuotePaperRow, QuoteRow
from studio.book.schema import bring_up_to_date, faults, revision

_BESIDE = ("-journal", "-wal", "-shm")
"""What SQLite keeps beside a book while it writes; after a crash the book is whole only together with it."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What stands in the book now, and where the one before it is kept; None where there was none."""

    kept: Path | None
    customers: int
    orders: int
    quotes: int
    papers: int


@contextmanager
def in_use(home: Path) -> Iterator[None]:
    """Hold the folder of a book for as long as it is served. A killed program lets go of it as well."""
    with _held(home, fcntl.LOCK_SH):
        yield


def restore(copy: Path, book: Path, *, now: datetime) -> Restored:
    """Put `copy` in the place of `book`, brought up to this program's revision, and count what is in it.

    The book before it is kept beside it ('book.before-restore.20261125-101500.db'). Everything that can be
    wrong with the copy is looked for first, on a second copy: until that is well, nothing is touched. Raises
    `RestoreRefused` where the copy is missing or not sound, the book is being served, or there is no room,
    and `BookNewer`.
    """
    if not copy.is_file():
        raise RestoreRefused(f"There is no file {copy}.")
    if book.exists() and copy.samefile(book):
        raise RestoreRefused(f"{copy} is the book itself.")
    book.parent.mkdir(parents=True, exist_ok=True)
    try:
        with _held(book.parent, fcntl.LOCK_EX | fcntl.LOCK_NB):
            tried = book.with_name(f".{book.name}.restoring")
            try:
                restored = _tried(copy, tried, now)
                kept = _set_aside(book, now)
                tried.replace(book)
                sync(book.parent)
            finally:
                for path in book.parent.glob(f"{tried.name}*"):
                    path.unlink()
    except BlockingIOError as error:
        raise RestoreRefused("The book is being served; end that program first.") from error
    except OSError as error:
        raise RestoreRefused(why_not_written(error, book)) from error
    return Restored(kept, *restored)


def papers_amiss(book: Session) -> list[str]:
    """The papers that are not the ones that were issued, each in a sentence; looked at one by one."""
    quotes = (
        pick(col(QuoteRow.number), col(QuotePaperRow.pdf), col(QuotePaperRow.sha256))
        .join(QuotePaperRow, col(QuotePaperRow.quote_id) == col(QuoteRow.id))
        .order_by(col(QuoteRow.id))
    )
    documents = (
        pick(col(DocumentRow.number), col(DocumentPaperRow.pdf), col(DocumentPaperRow.sha256))
        .join(DocumentPaperRow, col(DocumentPaperRow.document_id) == col(DocumentRow.id))
        .order_by(col(DocumentRow.id))
    )
    return [
        f"the paper of {what}{number} is not the one that was issued"
        for what, papers in (("quote ", quotes), ("", documents))
        for number, pdf, kept in book.connection().execute(papers.execution_options(yield_per=20))
        if sha256(pdf).hexdigest() != kept
    ]


def _tried(copy: Path, tried: Path, now: datetime) -> tuple[int, int, int, int]:
    """A copy of the copy, looked through and brought up to date; gives its counts."""
    tried.unlink(missing_ok=True)
    tried.touch(mode=0o600)
    try:
        with closing(sqlite3.connect(copy.resolve().as_uri() + "?mode=ro", uri=True)) as source:
            with closing(sqlite3.connect(tried)) as target:
                source.backup(target)
            (answer,) = source.execute("PRAGMA integrity_check").fetchone()
    except sqlite3.DatabaseError as error:
        if getattr(error, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_FULL:
            raise RestoreRefused(why_not_written(error, tried)) from error
        raise RestoreRefused(f"{copy} cannot be read as a book: {error}.") from error
    if answer != "ok":
        raise RestoreRefused(f"{copy} is not sound: {answer}")
    engine = open_book(f"sqlite:///{tried}")
    try:
        if revision(engine) is None:
            raise RestoreRefused(f"{copy} is no book of a studio.")
        older = bring_up_to_date(engine, now=now)
        if older is not None:
            older.unlink()  # the copy itself is the book as it was before
        return _looked_through(engine, copy)
    finally:
        engine.dispose()


def _looked_through(engine: Engine, copy: Path) -> tuple[int, int, int, int]:
    with session(engine) as book:
        wrong = [*faults(engine), *papers_amiss(book)]
        if wrong:
            raise RestoreRefused(f"{copy} is not sound: {'; '.join(wrong)}")
        counted = [
            book.connection().execute(pick(func.count()).select_from(row)).scalar_one()
            for row in (CustomerRow, OrderRow, QuoteRow, QuotePaperRow, DocumentPaperRow)
        ]
    customers, orders, quotes, of_quotes, of_documents = counted
    return customers, orders, quotes, of_quotes + of_documents


def _set_aside(book: Path, now: datetime) -> Path | None:
    """Keep the present book under another name, with all that belongs to it; it stays in its place too."""
    if not book.exists():
        return None
    kept = book.with_name(f"{book.stem}.before-restore.{now:%Y%m%d-%H%M%S}{book.suffix}")
    if kept.exists():
        raise RestoreRefused(f"{kept} is there already.")
    with suppress(sqlite3.DatabaseError), closing(sqlite3.connect(book)) as present:
        present.execute(
            "PRAGMA wal_checkpoint(TRUNCATE)"
        ).fetchall()  # a book that can be read is made one file
        present.execute("SELECT count(*) FROM sqlite_master").fetchall()
    try:
        shutil.copyfile(book, kept)
        kept.chmod(0o600)
        sync(kept)
    except OSError:
        kept.unlink(missing_ok=True)  # half of it is no book to go back to
        raise
    for ending in _BESIDE:
        with suppress(FileNotFoundError):
            book.with_name(f"{book.name}{ending}").replace(kept.with_name(f"{kept.name}{ending}"))
    return kept


@contextmanager
def _held(home: Path, how: int) -> Iterator[None]:
    folder = os.open(home, os.O_RDONLY)
    try:
        fcntl.flock(folder, how)
        yield
    finally:
        os.close(folder)
