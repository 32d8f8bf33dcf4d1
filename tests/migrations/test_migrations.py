"""From empty, and from every earlier revision, a book comes up to what the program expects."""

import ast
import shutil
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect

from studio.book import engine as engines
from studio.book import schema
from studio.book.engine import open_book
from studio.book.errors import BookNewer
from studio.book.order_reads import order
from studio.book.schema import bring_up_to_date, head_revision, revision
from studio.book.tables import metadata
from studio.resources import migrations_dir
from tests.builders import NOW, an_order

VERSIONS = sorted((migrations_dir() / "versions").glob("*.py"))
REVISIONS = [path.name[:4] for path in VERSIONS]


@pytest.fixture
def empty(tmp_path: Path) -> Engine:
    """A book without a table."""
    return open_book(f"sqlite:///{tmp_path / 'book.db'}")


def test_from_empty_the_tables_are_those_of_the_program(empty: Engine) -> None:
    assert bring_up_to_date(empty, now=NOW) is None
    with empty.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata()) == []
        found = inspect(connection)
        for name, table in metadata().tables.items():
            expected = {str(check.sqltext) for check in table.constraints if hasattr(check, "sqltext")}
            assert {check["sqltext"] for check in found.get_check_constraints(name)} == expected
            assert found.get_pk_constraint(name)["name"] == table.primary_key.name
    empty.dispose()


def test_every_foreign_key_has_a_name_and_an_index(empty: Engine) -> None:
    bring_up_to_date(empty, now=NOW)
    with empty.connect() as connection:
        found = inspect(connection)
        keys = 0
        for name in metadata().tables:
            indexes = [list(index["column_names"]) for index in found.get_indexes(name)]
            indexes += [list(unique["column_names"]) for unique in found.get_unique_constraints(name)]
            indexes.append(list(found.get_pk_constraint(name)["constrained_columns"]))
            for key in found.get_foreign_keys(name):
                keys += 1
                assert key["name"] == f"fk_{name}_{key['constrained_columns'][0]}_{key['referred_table']}"
                assert any(columns[:1] == key["constrained_columns"] for columns in indexes), key
    assert keys == 20
    empty.dispose()


def test_revisions_are_numbered_one_after_the_other_and_stand_alone() -> None:
    script = ScriptDirectory(str(migrations_dir()))
    assert [f"{place:04d}" for place in range(1, len(VERSIONS) + 1)] == REVISIONS
    assert [r.revision for r in reversed(list(script.walk_revisions()))] == REVISIONS
    for path in VERSIONS:
        imported = {
            name.name if isinstance(node, ast.Import) else node.module
            for node in ast.walk(ast.parse(path.read_text("utf-8")))
            if isinstance(node, ast.Import | ast.ImportFrom)
            for name in node.names
        }
        assert imported in ({"alembic"}, {"sqlalchemy", "alembic"}), path


@pytest.mark.parametrize("start", REVISIONS[:-1])
def test_a_book_of_an_earlier_revision_comes_up_and_a_copy_is_kept(
    empty: Engine, tmp_path: Path, start: str
) -> None:
    config = schema._config()
    with empty.connect() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, start)
    with empty.begin() as connection:
        connection.exec_driver_sql(
            "INSERT INTO users (name, name_folded, role, created_at) "
            "VALUES ('Asta', 'asta', 'maker', '2026-11-25')"
        )
    copy = bring_up_to_date(empty, now=NOW)
    assert copy == tmp_path / f"book.before-{head_revision()}.20261125-100000.db"
    assert revision(empty) == head_revision()
    before = open_book(f"sqlite:///{copy}")
    assert revision(before) == start
    for book in (before, empty):
        with book.connect() as connection:
            assert connection.exec_driver_sql("SELECT name FROM users").scalars().all() == ["Asta"]
        book.dispose()


def test_a_book_that_is_up_to_date_is_left_alone(engine: Engine, tmp_path: Path) -> None:
    with engines.session(engine) as session:
        number = an_order(session).number
    assert bring_up_to_date(engine, now=NOW) is None
    with engines.session(engine) as session:
        assert order(session, number).number == number
    assert [path.name for path in tmp_path.iterdir()] == ["book.db"]


def test_a_book_of_a_later_version_is_refused_and_left_as_it_is(engine: Engine, tmp_path: Path) -> None:
    with engine.begin() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(BookNewer) as told:
        bring_up_to_date(engine, now=NOW)
    assert (told.value.revision, told.value.known) == ("9999", head_revision())
    assert revision(engine) == "9999"
    assert [path.name for path in tmp_path.iterdir()] == ["book.db"]


def test_a_migration_that_fails_leaves_the_book_where_it_was(
    empty: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "migrations"
    shutil.copytree(migrations_dir(), folder)
    broken = folder / "versions" / VERSIONS[-1].name
    broken.write_text(broken.read_text("utf-8") + "    op.drop_table('nowhere')\n", "utf-8")
    monkeypatch.setattr(schema, "migrations_dir", lambda: folder)
    with pytest.raises(Exception, match="nowhere"):
        bring_up_to_date(empty, now=NOW)
    with empty.connect() as connection:
        assert inspect(connection).get_table_names() == []
    empty.dispose()
