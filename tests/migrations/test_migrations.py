"""From empty, and from every earlier revision, a book comes up to what the program expects."""

import ast
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import CheckConstraint, Engine, inspect

from studio.book import engine as engines
from studio.book.errors import BookNewer
from studio.book.order_reads import order
from studio.book.schema import bring_up_to_date, head_revision, revision
from studio.book.tables import metadata
from studio.resources import migrations_dir
from tests.builders import NOW, an_order
from tests.migrations.old_books import held, old_book, shape

VERSIONS = sorted((migrations_dir() / "versions").glob("*.py"))
REVISIONS = [path.name[:4] for path in VERSIONS]


def test_from_empty_the_tables_are_those_of_the_program(empty: Engine) -> None:
    assert bring_up_to_date(empty, now=NOW) is None
    with empty.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, metadata()) == []
        found = inspect(connection)
        for name, table in metadata().tables.items():
            checks = [check for check in table.constraints if isinstance(check, CheckConstraint)]
            there = found.get_check_constraints(name)
            # Alembic puts the pattern of the names before the name that a revision gives, in every book
            assert {check["name"] for check in there} == {f"ck_{name}_{check.name}" for check in checks}
            if connection.dialect.name == "sqlite":  # a server tells them in words of its own
                assert {check["sqltext"] for check in there} == {str(check.sqltext) for check in checks}
            assert found.get_pk_constraint(name)["name"] == table.primary_key.name


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
    assert keys == 97


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


def test_a_book_that_is_up_to_date_is_left_alone(engine: Engine, tmp_path: Path) -> None:
    with engines.session(engine) as session:
        number = an_order(session).number
    files = sorted(tmp_path.iterdir())
    assert bring_up_to_date(engine, now=NOW) is None
    with engines.session(engine) as session:
        assert order(session, number).number == number
    assert sorted(tmp_path.iterdir()) == files


def test_a_book_of_a_later_version_is_refused_and_left_as_it_is(empty: Engine, tmp_path: Path) -> None:
    old_book(empty, REVISIONS[-1])
    with empty.begin() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    files, before, its_shape = sorted(tmp_path.iterdir()), held(empty), shape(empty)
    with pytest.raises(BookNewer, match="at revision 9999, this program knows up to") as told:
        bring_up_to_date(empty, now=NOW)
    assert (told.value.revision, told.value.known) == ("9999", head_revision())
    assert (revision(empty), held(empty), shape(empty)) == ("9999", before, its_shape)
    assert sorted(tmp_path.iterdir()) == files
