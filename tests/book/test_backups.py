"""A copy of the book is whole, whatever is written meanwhile."""

import errno
import os
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


def test_a_copy_on_a_full_disk_is_refused_in_words_and_leaves_nothing(
    engine: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class OnASmallDisk(sqlite3.Connection):
        def __init__(self, path: Path) -> None:
            super().__init__(path)
            self.execute("PRAGMA max_page_count = 8").close()

    folder = tmp_path / "stick"
    folder.mkdir()
    monkeypatch.setattr("studio.book.backups.sqlite3.connect", OnASmallDisk)
    with pytest.raises(BackupRefused, match=f"There is no room for the copy in {folder}"):
        backup(engine, folder / "copy.db")
    assert list(folder.iterdir()) == []
    with engines.session(engine) as session:
        assert an_order(session).number == "2026-1"


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (errno.ENOSPC, "There is no room for the copy in {folder}. Nothing is left of it there."),
        (errno.EACCES, "{folder}/copy.db could not be written: Permission denied."),
    ],
)
def test_a_disk_that_does_not_keep_the_copy_is_told(
    engine: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, told: str
) -> None:
    def fail(_handle: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr("studio.book.backups.os.fsync", fail)
    folder = tmp_path / "stick"
    folder.mkdir()
    with pytest.raises(BackupRefused) as refused:
        backup(engine, folder / "copy.db")
    assert str(refused.value) == told.format(folder=folder)
    assert list(folder.iterdir()) == []
