"""Books of earlier revisions with something in every table, and what a book holds, value by value.

`first_release.sql` was written by the verbs of the first release, and `later_rows.sql` by those of the
releases in which its tables appeared. Both are kept as they were: they change no more than those releases do.
"""

import re
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from alembic import command
from sqlalchemy import ColumnClause, Connection, Engine, Select, func, inspect, literal_column, select, text
from sqlalchemy.engine.interfaces import ReflectedIndex

from studio.book import migrating
from studio.book.engine import open_book
from studio.resources import migrations_dir

FIRST_RELEASE = "0004"
REVISIONS = [path.name[:4] for path in sorted((migrations_dir() / "versions").glob("*.py"))]
PAPER = b"%PDF-1.7 \x00\xff not text"
OWNERS_PASSPHRASE = "nine herons by the mill"
TOKENS = {
    "owner": "I6VBSDWcvBQXnKeuQXkzlaJgluUpGGPyRqHz1ISDApo",
    "counter": "81u9AAIDF6c_n_eypcz0gGk0y43NCcUXof5lENzUs5w",
    "maker": "GF1oqFeRqxXwusPw5ON2-J6ubhz33WmSI2YymjE3mOs",
}
"""The tokens of the invented studio's programs, by role."""
Held = dict[str, tuple[tuple[str, ...], list[tuple[Any, ...]]]]
"""The columns of each table, and its rows in order."""


def step_to(engine: Engine, revision: str) -> None:
    """Run the migrations up to a revision, as the program of that revision did."""
    config = migrating.configuration(migrations_dir())
    with engine.connect() as connection, migrating.loose_references(connection):
        config.attributes["connection"] = connection
        command.upgrade(config, revision)


def old_book(engine: Engine, revision: str) -> None:
    """Make a book of a revision in an empty database: at each step the new tables get their rows.

    Rows that say what a table holds since a later revision come with the columns they name. A file is made
    so once, and copied from then on.
    """
    if engine.dialect.name == "sqlite":
        engine.dispose()
        Path(str(engine.url.database)).write_bytes(_files()[revision])
        return
    written: set[str] = set()
    for step in REVISIONS[: REVISIONS.index(revision) + 1]:
        step_to(engine, step)
        written |= fill(engine, but=written)


@cache
def _files() -> dict[str, bytes]:
    """The old book of every revision as the bytes of its file."""
    found: dict[str, bytes] = {}
    written: set[str] = set()
    with TemporaryDirectory() as folder:
        place = Path(folder) / "old.db"
        engine = open_book(f"sqlite:///{place}")
        for step in REVISIONS:
            step_to(engine, step)
            written |= fill(engine, but=written)
            with engine.connect() as connection:
                connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)").close()
            engine.dispose()
            found[step] = place.read_bytes()
    return found


def fill(engine: Engine, *, but: set[str]) -> set[str]:
    """Run the INSERTs whose tables and columns are there, but for those that were run; gives those it ran."""
    filled, written = set(), set()
    with engine.begin() as connection:
        look = inspect(connection)
        there = {
            table: {column["name"] for column in look.get_columns(table)} for table in look.get_table_names()
        }
        if engine.dialect.name == "postgresql":
            connection.execute(text("SET LOCAL TIME ZONE 'UTC'"))
        for table, statement in statements("first_release.sql", "later_rows.sql"):
            if statement not in but and _columns_of(statement) <= there.get(table, set()):
                connection.execution_options(no_parameters=True).exec_driver_sql(statement)
                filled.add(table)
                written.add(statement)
        for papers in ("quote_papers", "document_papers", "invoice_papers"):
            if papers in there and papers not in but:
                statement = f"INSERT INTO {papers} VALUES (1, :pdf, 'ab12', '2026-11-13 10:00:00')"  # noqa: S608  names of our own
                connection.execute(text(statement), {"pdf": PAPER})
                written.add(papers)
        for table in filled:
            _count_on(connection, table)
    return written


def _columns_of(statement: str) -> set[str]:
    """The columns that an INSERT names."""
    named = re.search(r"\(([^)]*)\) VALUES", statement)
    assert named is not None, statement[:80]
    return {name.strip() for name in named.group(1).split(",")}


def statements(*names: str) -> Iterator[tuple[str, str]]:
    """The INSERTs of the scripts with their tables."""
    for name in names:
        script = (Path(__file__).parent / name).read_text("utf-8")
        for statement in re.split(r";\n", script):
            found = re.search(r"^INSERT INTO (\w+) ", statement, re.MULTILINE)
            if found is not None:
                yield found.group(1), statement[found.start() :]


def _count_on(connection: Connection, table: str) -> None:
    """Let a server number new rows after those that came with a number of their own."""
    if connection.dialect.name != "postgresql":
        return
    columns = {column["name"] for column in inspect(connection).get_columns(table)}
    if "id" in columns:
        counter = connection.execute(text(f"SELECT pg_get_serial_sequence('{table}', 'id')")).scalar()
        if counter is not None:
            newest: Select[tuple[int]] = select(func.max(literal_column("id"))).select_from(text(table))
            highest = connection.execute(newest).scalar_one()
            connection.execute(select(func.setval(counter, highest)))


def held(engine: Engine, only: Held | None = None) -> Held:
    """Every value of a book, as the driver gives it; or of the tables and columns of `only`."""
    found: Held = {}
    with engine.connect() as connection:
        look = inspect(connection)
        for table in only or sorted(set(look.get_table_names()) - {"alembic_version"}):
            columns: Sequence[str] = (
                only[table][0] if only else [column["name"] for column in look.get_columns(table)]
            )
            wanted: list[ColumnClause[Any]] = [literal_column(column) for column in columns]
            asked = select(*wanted).select_from(text(table))
            rows = connection.execute(asked)
            found[table] = (tuple(columns), sorted((tuple(row) for row in rows), key=repr))
    return found


def shape(engine: Engine) -> dict[str, Any]:
    """The tables of a book with their columns, indexes and constraints."""
    found: dict[str, Any] = {}
    with engine.connect() as connection:
        look = inspect(connection)
        for table in look.get_table_names():
            columns = look.get_columns(table)
            found[table] = [
                [(column["name"], str(column["type"]), column["nullable"]) for column in columns],
                sorted(_index(index) for index in look.get_indexes(table)),
                sorted(repr(key) for key in look.get_foreign_keys(table)),
                sorted(repr(check) for check in look.get_check_constraints(table)),
            ]
    return found


def _index(index: ReflectedIndex) -> str:
    where = {name: str(clause) for name, clause in index.get("dialect_options", {}).items()}
    return f"{index['name']} {index['column_names']} {index['unique']} {where}"
