"""A copy of the book while it is in use."""

import errno
import os
import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import Engine

from studio.book.errors import BackupRefused


def backup(engine: Engine, path: Path) -> None:
    """Copy a SQLite book to `path` by SQLite's own online backup, in one step.

    Writers wait meanwhile (some milliseconds a megabyte); a copy in several steps would start anew with each
    write and might never end. The copy is checked and synced to the disk under another name first, so that
    `path` is either not there or whole. Raises `BackupRefused` where `path` exists, its folder does not, has
    no room or may not be written to, the book lies in a database server, or the copy is not sound.
    """
    if engine.url.get_backend_name() != "sqlite":
        raise BackupRefused("A book in a database server is copied with that server's tool, such as pg_dump.")
    if path.exists():
        raise BackupRefused(f"{path} is there already; a copy never overwrites another.")
    if not path.parent.is_dir():
        raise BackupRefused(f"There is no folder {path.parent}.")
    unfinished = path.with_name(f".{path.name}.unfinished")
    try:
        _copy(engine, unfinished)
        unfinished.replace(path)
        sync(path.parent)
    except (sqlite3.Error, OSError) as error:
        raise BackupRefused(why_not_written(error, path)) from error
    finally:
        unfinished.unlink(missing_ok=True)


def why_not_written(error: sqlite3.Error | OSError, path: Path) -> str:
    """Why a copy could not be written to `path`, in a sentence for whoever keeps the book."""
    is_full = (
        error.errno in {errno.ENOSPC, errno.EDQUOT}
        if isinstance(error, OSError)
        else getattr(error, "sqlite_errorcode", 0) & 0xFF == sqlite3.SQLITE_FULL
    )
    if is_full:
        return f"There is no room for the copy in {path.parent}. Nothing is left of it there."
    said = error.strerror if isinstance(error, OSError) else error
    return f"{path} could not be written: {said}."


def _copy(engine: Engine, path: Path) -> None:
    path.unlink(missing_ok=True)
    path.touch(mode=0o600)
    with closing(sqlite3.connect(path)) as copy:
        source = engine.raw_connection()
        try:
            driver = source.driver_connection
            if not isinstance(driver, sqlite3.Connection):
                raise BackupRefused("The book's driver has no online copy.")
            driver.backup(copy, pages=-1)
        finally:
            source.close()
        (answer,) = copy.execute("PRAGMA integrity_check").fetchone()
        if answer != "ok":
            raise BackupRefused(f"The copy is not sound: {answer}")
        copy.execute("PRAGMA journal_mode = DELETE").close()
    sync(path)


def sync(path: Path) -> None:
    """Have the disk keep a file, or the names in a folder, before going on."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
