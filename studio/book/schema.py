"""Bringing a book's tables from empty, or from an earlier release, to what this program expects."""

import sqlite3
from datetime import datetime
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect

from studio.book import tables  # noqa: F401  rows point to rows of tables that no verb at hand may import
from studio.book.backups import backup
from studio.book.errors import BookNewer
from studio.resources import migrations_dir


def bring_up_to_date(engine: Engine, *, now: datetime) -> Path | None:
    """Run what is missing of the migrations; give the copy made before, or None where nothing was at stake.

    A SQLite book that already holds tables is copied beside itself first ('book.before-0002.db'). Raises
    `BookNewer` for a book of a later version; it is left as it is.
    """
    config = _config()
    script = ScriptDirectory.from_config(config)
    head = script.get_current_head() or ""
    with engine.connect() as connection:
        current = MigrationContext.configure(connection).get_current_revision()
        is_empty = not inspect(connection).get_table_names()
    if current == head:
        return None
    known = {revision.revision for revision in script.walk_revisions()}
    if current is not None and current not in known:
        raise BookNewer(current, head)
    copy = None
    if not is_empty and engine.url.get_backend_name() == "sqlite" and engine.url.database:
        book = Path(engine.url.database)
        copy = book.with_name(f"{book.stem}.before-{head}.{now:%Y%m%d-%H%M%S}{book.suffix}")
        backup(engine, copy)
    with engine.connect() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
    return copy


def revision(engine: Engine) -> str | None:
    """The revision a book is at; None for an empty one."""
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def head_revision() -> str:
    """The revision this program brings a book to."""
    return ScriptDirectory.from_config(_config()).get_current_head() or ""


def faults(engine: Engine) -> list[str]:
    """What the database itself finds wrong with a SQLite book: its pages, and rows that point nowhere."""
    if engine.url.get_backend_name() != "sqlite":
        return []
    with engine.connect() as connection:
        pages = [row[0] for row in connection.exec_driver_sql("PRAGMA integrity_check")]
        strays = list(connection.exec_driver_sql("PRAGMA foreign_key_check"))
    return [line for line in pages if line != "ok"] + [
        f"a row of {table} points to a missing row of {parent}" for table, _, parent, _ in strays
    ]


def journal(engine: Engine) -> str:
    """How SQLite guards a commit ('wal', 'delete') with its version, or the name of the server."""
    if engine.url.get_backend_name() != "sqlite":
        return engine.url.get_backend_name()
    with engine.connect() as connection:
        mode = connection.exec_driver_sql("PRAGMA journal_mode").scalar_one()
    return f"SQLite {sqlite3.sqlite_version}, journal {mode}"


def _config() -> Config:
    # Built here and not read from pyproject.toml, which an installed wheel does not carry.
    config = Config()
    config.set_main_option("script_location", str(migrations_dir()).replace("%", "%%"))
    return config
