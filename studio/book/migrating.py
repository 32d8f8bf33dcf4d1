"""Running the migrations. Alembic is loaded with this file, and so only where a book is behind."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection


def upgrade(connection: Connection, folder: Path) -> None:
    """Run what is missing of the migrations in `folder`, in the transaction of `connection`."""
    config = configuration(folder)
    config.attributes["connection"] = connection
    before = strays(connection)
    command.upgrade(config, "head")
    if strays(connection) > before:
        raise RowsLost


class RowsLost(Exception):
    """A revision left rows that point to rows which are gone: a fault of ours. Nothing of it is kept."""


@contextmanager
def loose_references(connection: Connection) -> Iterator[None]:
    """Let SQLite copy a table that others point to: it would take the old one's end for the rows' end.

    It can be told so only before a transaction begins, and then checks nothing by itself; so what points
    nowhere is counted before and after, in the transaction. Raises `RowsLost` where there is more.
    """
    if connection.dialect.name != "sqlite":
        yield
        return
    driver = connection.connection.dbapi_connection
    assert driver is not None  # noqa: S101  an open connection has its driver's
    driver.execute("PRAGMA foreign_keys = OFF").close()
    try:
        yield
    finally:
        driver.execute("PRAGMA foreign_keys = ON").close()


def strays(connection: Connection) -> int:
    """How many rows of a SQLite book point to rows that are gone; a server looks after them by itself."""
    if connection.dialect.name != "sqlite":
        return 0
    return len(list(connection.exec_driver_sql("PRAGMA foreign_key_check")))


def configuration(folder: Path) -> Config:
    """Alembic's configuration, built here: an installed wheel carries no pyproject.toml to read it from."""
    config = Config()
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    return config
