"""A migration that fails or is killed in the middle leaves the old book; of several starts one migrates."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

from studio.book import schema
from studio.book.engine import WRITES, open_book, session
from studio.book.errors import BookBusy
from studio.book.migrating import RowsLost
from studio.book.orders import order
from studio.book.schema import bring_up_to_date, faults, head_revision, revision
from studio.craft.orders import State
from studio.resources import migrations_dir
from tests.builders import NOW
from tests.migrations.old_books import FIRST_RELEASE, REVISIONS, held, old_book, shape

STEPS = """
    op.add_column("orders", sa.Column("drawer", sa.Text))
    op.execute("UPDATE orders SET drawer = 'top', note = 'overwritten'")
    op.execute("DELETE FROM answers")
    op.create_table("drawers", sa.Column("id", sa.Integer, primary_key=True))
"""
FAILS = '    op.drop_table("nowhere")\n'
IS_KILLED = "    import os, signal\n    os.kill(os.getpid(), signal.SIGKILL)\n"
MIGRATE = """
import sys
from datetime import datetime, UTC
from pathlib import Path
from studio.book import schema
from studio.book.engine import open_book
if len(sys.argv) > 2:
    schema.migrations_dir = lambda: Path(sys.argv[2])
engine = open_book(sys.argv[1])
print("ready", flush=True)
sys.stdin.readline()
print(schema.bring_up_to_date(engine, now=datetime(2026, 11, 25, 10, tzinfo=UTC)))
"""
"""A program that starts, waits for a word, and migrates; all of them at the same moment of the clock."""


def one_more(folder: Path, end: str) -> Path:
    """The migrations with one more, which does a lot and then comes to a bad end in its last step."""
    shutil.copytree(migrations_dir(), folder / "migrations")
    last = f"{len(REVISIONS) + 1:04d}"
    head = f"import sqlalchemy as sa\nfrom alembic import op\n\nrevision = '{last}'\n"
    head += f"down_revision = '{REVISIONS[-1]}'\n\n\ndef upgrade():"
    (folder / "migrations" / "versions" / f"{last}_drawers.py").write_text(head + STEPS + end, "utf-8")
    return folder / "migrations"


def program(address: str, *more: str) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-c", MIGRATE, address, *more],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip


@pytest.mark.parametrize("start", [FIRST_RELEASE, REVISIONS[-1]])
def test_a_migration_that_fails_in_a_later_step_leaves_the_book_as_it_was(
    empty: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, start: str
) -> None:
    old_book(empty, start)
    before, its_shape = held(empty), shape(empty)
    broken = one_more(tmp_path, FAILS)
    with monkeypatch.context() as patched:
        patched.setattr(schema, "migrations_dir", lambda: broken)
        with pytest.raises(DBAPIError, match="nowhere"):
            bring_up_to_date(empty, now=NOW)
    assert (revision(empty), held(empty), shape(empty)) == (start, before, its_shape)
    assert faults(empty) == []
    with empty.begin() as connection:  # whoever was at work goes on at the old revision
        connection.exec_driver_sql("UPDATE orders SET note = 'goes on' WHERE number = '2026-11'")
    bring_up_to_date(empty, now=NOW.replace(minute=1))  # and the mended program brings it up
    with session(empty) as book:
        assert (order(book, "2026-11").state, order(book, "2026-11").terms.note) == (State.DRAFT, "goes on")


def test_an_empty_book_stays_empty(empty: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    broken = one_more(tmp_path, FAILS)
    monkeypatch.setattr(schema, "migrations_dir", lambda: broken)
    with pytest.raises(DBAPIError, match="nowhere"):
        bring_up_to_date(empty, now=NOW)
    assert (revision(empty), shape(empty)) == (None, {})


def test_a_program_killed_in_the_middle_leaves_the_book_as_it_was(empty: Engine, tmp_path: Path) -> None:
    old_book(empty, FIRST_RELEASE)
    before, its_shape = held(empty), shape(empty)
    address = empty.url.render_as_string(hide_password=False).replace("+psycopg", "")
    killed = program(address, str(one_more(tmp_path, IS_KILLED)))
    killed.communicate("go\n", timeout=120)
    assert killed.returncode == -9
    assert (revision(empty), held(empty), shape(empty)) == (FIRST_RELEASE, before, its_shape)
    assert faults(empty) == []
    bring_up_to_date(empty, now=NOW.replace(minute=1))
    assert (revision(empty), held(empty, before)) == (head_revision(), before)


def test_of_programs_that_start_at_once_one_migrates_and_the_others_wait(
    empty: Engine, tmp_path: Path
) -> None:
    old_book(empty, FIRST_RELEASE)
    before = held(empty)
    address = empty.url.render_as_string(hide_password=False).replace("+psycopg", "")
    running = [program(address) for _ in range(3)]
    for one in running:
        assert one.stdout is not None
        assert one.stdout.readline() == "ready\n"
    for one in running:
        assert one.stdin is not None
        one.stdin.write("go\n")
        one.stdin.flush()
    told = [one.communicate(timeout=120) for one in running]
    assert [one.returncode for one in running] == [0, 0, 0], told
    assert (revision(empty), held(empty, before)) == (head_revision(), before)
    copies = sorted(str(path) for path in tmp_path.glob("book.before-*"))
    said = [out.strip() for out, _ in told]
    assert sorted(said) == sorted(copies + ["None"] * (3 - len(copies)))
    assert len(copies) == (1 if empty.dialect.name == "sqlite" else 0)


def test_what_is_written_until_the_lock_is_in_the_copy(file_book: Engine, tmp_path: Path) -> None:
    old_book(file_book, FIRST_RELEASE)
    other = open_book(f"sqlite:///{tmp_path / 'book.db'}")
    late = program(f"sqlite:///{tmp_path / 'book.db'}")
    assert late.stdout is not None
    assert late.stdout.readline() == "ready\n"
    with other.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
        assert late.stdin is not None
        late.stdin.write("go\n")
        late.stdin.flush()
        connection.exec_driver_sql("UPDATE orders SET note = 'just now' WHERE number = '2026-11'")
    said, told = late.communicate(timeout=120)
    assert late.returncode == 0, told
    for address in (said.strip(), str(tmp_path / "book.db")):
        kept = open_book(f"sqlite:///{address}")
        with kept.connect() as connection:
            found = connection.exec_driver_sql("SELECT note FROM orders WHERE number = '2026-11'")
            assert found.scalar_one() == "just now"
        kept.dispose()
    other.dispose()


def test_a_book_that_somebody_else_writes_is_left_and_said_to_be_busy(
    empty: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("studio.book.engine.BUSY_TIMEOUT_MS", 50)
    old_book(empty, FIRST_RELEASE)
    other, waits = open_book(str(empty.url)), open_book(str(empty.url))
    with (
        other.connect().execution_options(**{WRITES: True}) as connection,
        connection.begin(),
        pytest.raises(BookBusy),
    ):
        bring_up_to_date(waits, now=NOW)
    assert revision(empty) == FIRST_RELEASE
    assert list(tmp_path.glob("book.before-*")) == []
    for engine in (other, waits):
        engine.dispose()


def test_a_migration_that_leaves_rows_pointing_nowhere_leaves_the_book_as_it_was(
    file_book: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old_book(file_book, REVISIONS[-1])
    before = held(file_book)
    folder = one_more(tmp_path, '    op.execute("DELETE FROM fingers")\n')
    monkeypatch.setattr(schema, "migrations_dir", lambda: folder)
    with pytest.raises(RowsLost):
        bring_up_to_date(file_book, now=NOW)
    assert held(file_book) == before


def test_references_are_watched_again_after_a_migration(file_book: Engine) -> None:
    old_book(file_book, FIRST_RELEASE)
    bring_up_to_date(file_book, now=NOW)
    with file_book.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar_one() == 1
