"""Bringing a book's tables from empty, or from an earlier release, to what this program expects."""

import sqlite3
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, Engine, Text, column, exists, func, inspect, select, table
from sqlalchemy.exc import OperationalError

from studio.book import tables  # noqa: F401  rows point to rows of tables that no verb at hand may import
from studio.book.backups import backup
from studio.book.engine import WRITES
from studio.book.errors import BookNewer
from studio.book.transaction import in_words
from studio.resources import migrations_dir


def bring_up_to_date(engine: Engine, *, now: datetime) -> Path | None:
    """Run what is missing of the migrations; give the copy made before, or None where nothing was at stake.

    A SQLite book that already holds tables is copied beside itself first ('book.before-0002.db'), under the
    lock that the migrations then run in: nothing is written between the copy and them. All of it is one
    transaction. Of two programs that start at once one does it, and the other waits and finds it done. Raises
    `BookNewer` for a book of a later version, which is left as it is, and `BookBusy` or `BookFull`.
    """
    if not _is_behind(revision(engine)):
        return None
    from studio.book.migrating import (  # noqa: PLC0415  a book that is up to date starts without Alembic
        loose_references,
        upgrade,
    )

    copy = None
    try:
        with (
            engine.connect().execution_options(**{WRITES: True}) as connection,
            loose_references(connection),
            connection.begin(),
        ):
            if not _is_behind(_revision(connection)):
                return None
            if inspect(connection).get_table_names():
                copy = _copied(engine, head_revision(), now)
            upgrade(connection, migrations_dir())
    except OperationalError as error:
        raise in_words(error) from error
    return copy


def _is_behind(current: str | None) -> bool:
    """Whether migrations are missing. Raises `BookNewer` for a revision that this program does not know."""
    known = _revisions()
    if current is not None and current not in known:
        raise BookNewer(current, known[-1])
    return current != known[-1]


def _copied(engine: Engine, head: str, now: datetime) -> Path | None:
    """The copy of a book that lies in a file; a server's is copied with the server's own tool."""
    if engine.url.get_backend_name() != "sqlite" or not engine.url.database:
        return None
    book = Path(engine.url.database)
    copy = book.with_name(f"{book.stem}.before-{head}.{now:%Y%m%d-%H%M%S}{book.suffix}")
    backup(engine, copy)
    return copy


def revision(engine: Engine) -> str | None:
    """The revision a book is at; None for an empty one."""
    with engine.connect() as connection:
        return _revision(connection)


def head_revision() -> str:
    """The revision this program brings a book to."""
    return _revisions()[-1]


def _revision(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    kept = select(column("version_num", Text)).select_from(table("alembic_version"))
    return connection.execute(kept).scalar_one_or_none()


def _revisions() -> list[str]:
    """The program's revisions in their order: the numbers that the migrations' files begin with."""
    return sorted(file.name[:4] for file in (migrations_dir() / "versions").glob("[0-9]*.py"))


def faults(engine: Engine) -> list[str]:
    """What is wrong with the book as its database sees it: rows that point nowhere, and a file's pages.

    A server looks after its pages by itself. Its references are looked through all the same: they are not
    checked while a dump is read back without its triggers.
    """
    with engine.connect() as connection:
        if connection.dialect.name != "sqlite":
            return _strays(connection)
        pages = [row[0] for row in connection.exec_driver_sql("PRAGMA integrity_check")]
        strays = list(connection.exec_driver_sql("PRAGMA foreign_key_check"))
    return [line for line in pages if line != "ok"] + [
        f"a row of {table} points to a missing row of {parent}" for table, _, parent, _ in strays
    ]


def _strays(connection: Connection) -> list[str]:
    found, look = [], inspect(connection)
    for name in look.get_table_names():
        for key in look.get_foreign_keys(name):
            (own,), (theirs,), parent = (
                key["constrained_columns"],
                key["referred_columns"],
                key["referred_table"],
            )
            # Under a name of its own: a table may point to itself.
            row, meant = table(name, column(own)), table(parent, column(theirs)).alias("meant")
            is_there = exists().where(meant.c[theirs] == row.c[own])
            asked = select(func.count()).select_from(row).where(row.c[own].is_not(None), ~is_there)
            found += [f"a row of {name} points to a missing row of {parent}"] * connection.execute(
                asked
            ).scalar_one()
    return found


def journal(engine: Engine) -> str:
    """How SQLite guards a commit ('wal', 'delete') with its version, or the server with its version."""
    with engine.connect() as connection:
        if connection.dialect.name != "sqlite":
            version = connection.exec_driver_sql("SHOW server_version").scalar_one()
            return f"PostgreSQL {version}"
        mode = connection.exec_driver_sql("PRAGMA journal_mode").scalar_one()
    return f"SQLite {sqlite3.sqlite_version}, journal {mode}"
