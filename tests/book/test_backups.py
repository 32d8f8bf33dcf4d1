"""A copy of the book is whole, whatever is written meanwhile."""

import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import Engine

from studio.book import engine as engines
from studio.book.backups import backup
from studio.book.errors import BackupRefused
from studio.book.order_reads import state_counts
from studio.book.schema import faults
from tests.builders import an_order


def test_a_copy_made_while_somebody_writes_is_whole(engine: Engine, tmp_path: Path) -> None:
    taken: list[str] = []
    enough, stop = threading.Event(), threading.Event()

    def write() -> None:
        with engines.session(engine) as session:
            while not stop.is_set():
                taken.append(an_order(session).number)
                if len(taken) >= 5:
                    enough.set()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        assert enough.wait(20)
        before = len(taken)
        backup(engine, tmp_path / "copy.db")
        after = len(taken)
    finally:
        stop.set()
        writer.join()
    copy = engines.open_book(f"sqlite:///{tmp_path / 'copy.db'}")
    with engines.session(copy) as session:
        count = sum(state_counts(session).values())
        assert before <= count <= after + 1
        assert an_order(session).number == f"2026-{count + 1}"
    assert faults(copy) == []
    copy.dispose()


def test_a_copy_overwrites_nothing_and_leaves_no_half_file(engine: Engine, tmp_path: Path) -> None:
    kept = tmp_path / "kept.db"
    kept.write_text("mine")
    for path in (kept, tmp_path / "nowhere" / "copy.db"):
        with pytest.raises(BackupRefused):
            backup(engine, path)
    assert kept.read_text() == "mine"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book.db", "kept.db"]


def test_only_the_keeper_can_read_a_copy(engine: Engine, tmp_path: Path) -> None:
    backup(engine, tmp_path / "copy.db")
    assert (tmp_path / "copy.db").stat().st_mode & 0o077 == 0


def test_faults_name_rows_that_point_nowhere(engine: Engine, tmp_path: Path) -> None:
    with engines.session(engine) as session:
        an_order(session)
    engine.dispose()
    with closing(sqlite3.connect(tmp_path / "book.db")) as careless:
        careless.execute("DELETE FROM customers")
        careless.commit()
    assert "a row of orders points to a missing row of customers" in faults(engine)
