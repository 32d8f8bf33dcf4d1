"""A copy comes back as the book, or does not come in at all."""

import errno
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine

from studio import checks
from studio.book import engine as engines
from studio.book.backups import backup
from studio.book.errors import BookNewer, RestoreRefused
from studio.book.order_reads import order
from studio.book.restoring import in_use, restore
from studio.book.schema import faults, revision
from tests.builders import NOW, an_order
from tests.quoting import a_quote, put_figures


@pytest.fixture
def copy(engine: Engine, tmp_path: Path) -> Path:
    """A copy of a book with an order, a quote and its paper."""
    with engines.session(engine) as session:
        put_figures(session)
        a_quote(session)
    backup(engine, tmp_path / "copy.db")
    return tmp_path / "copy.db"


@contextmanager
def spoilt(path: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(path)) as careless:
        yield careless
        careless.commit()


def test_a_copy_tried_in_an_empty_folder_tells_what_it_holds(copy: Path, tmp_path: Path) -> None:
    told = restore(copy, tmp_path / "trial" / "book.db", now=NOW)
    assert told.kept is None
    assert (told.customers, told.orders, told.quotes, told.papers) == (1, 1, 1, 1)
    assert [path.name for path in (tmp_path / "trial").iterdir()] == ["book.db"]
    assert (tmp_path / "trial" / "book.db").stat().st_mode & 0o077 == 0


def test_the_book_before_is_kept_beside_the_restored_one(engine: Engine, copy: Path, tmp_path: Path) -> None:
    with engines.session(engine) as session:
        later = an_order(session).number
    engine.dispose()
    told = restore(copy, tmp_path / "book.db", now=NOW)
    assert told.kept is not None
    for path, has_it in ((told.kept, True), (tmp_path / "book.db", False)):
        with closing(sqlite3.connect(path)) as opened:
            found = opened.execute("SELECT count(*) FROM orders WHERE number = ?", (later,)).fetchone()
        assert found == (int(has_it),)


def test_what_was_saved_before_a_copy_is_there_after_it_is_restored_while_a_writer_loops(
    engine: Engine, tmp_path: Path
) -> None:
    saved: list[str] = []
    enough, stop = threading.Event(), threading.Event()

    def write() -> None:
        with engines.session(engine) as session:
            while not stop.is_set():
                saved.append(an_order(session).number)
                if len(saved) >= 5:
                    enough.set()

    writer = threading.Thread(target=write)
    writer.start()
    try:
        assert enough.wait(60)
        before = list(saved)
        backup(engine, tmp_path / "copy.db")
    finally:
        stop.set()
        writer.join()
    restore(tmp_path / "copy.db", tmp_path / "trial" / "book.db", now=NOW)
    opened = engines.open_book(f"sqlite:///{tmp_path / 'trial' / 'book.db'}")
    with engines.session(opened) as session:
        assert [order(session, number).number for number in before] == before
    assert faults(opened) == []
    opened.dispose()


def test_a_served_book_is_not_replaced(copy: Path, tmp_path: Path) -> None:
    with in_use(tmp_path), pytest.raises(RestoreRefused, match="being served"):
        restore(copy, tmp_path / "book.db", now=NOW)
    restore(copy, tmp_path / "book.db", now=NOW)


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ("UPDATE quote_papers SET pdf = X'00'", "the paper of quote 2026-1-q1 is not the one"),
        ("DELETE FROM customers", "points to a missing row of customers"),
        ("DROP TABLE alembic_version", "is no book"),
    ],
)
def test_a_copy_that_is_not_sound_does_not_come_in(copy: Path, tmp_path: Path, wrong: str, told: str) -> None:
    with spoilt(copy) as careless:
        careless.execute(wrong)
    before = (tmp_path / "book.db").read_bytes()
    with pytest.raises(RestoreRefused, match=told):
        restore(copy, tmp_path / "book.db", now=NOW)
    assert (tmp_path / "book.db").read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book.db", "copy.db"]


def test_a_copy_of_a_later_version_does_not_come_in(copy: Path, tmp_path: Path) -> None:
    with spoilt(copy) as careless:
        careless.execute("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(BookNewer):
        restore(copy, tmp_path / "book.db", now=NOW)


@pytest.mark.parametrize("what", ["missing", "words", "cut", "itself"])
def test_a_file_that_is_no_copy_is_told(copy: Path, tmp_path: Path, what: str) -> None:
    file = tmp_path / "file.db"
    if what == "words":
        file.write_text("a shopping list, by mistake " * 40)
    elif what == "cut":
        file.write_bytes(copy.read_bytes()[:20_000])
    elif what == "itself":
        file = tmp_path / "book.db"
    with pytest.raises(RestoreRefused):
        restore(file, tmp_path / "book.db", now=NOW)


def test_restoring_twice_keeps_each_book(copy: Path, tmp_path: Path) -> None:
    kept = [restore(copy, tmp_path / "book.db", now=NOW + timedelta(seconds=n)).kept for n in range(2)]
    assert len({path for path in kept if path is not None and path.exists()}) == 2
    opened = engines.open_book(f"sqlite:///{tmp_path / 'book.db'}")
    assert revision(opened) is not None
    opened.dispose()


def test_check_names_the_quote_whose_paper_was_changed(engine: Engine, copy: Path, tmp_path: Path) -> None:
    assert "every paper is as it was issued" in [one.says for one in checks.book(engine, tmp_path)]
    engine.dispose()
    with spoilt(tmp_path / "book.db") as careless:
        careless.execute("UPDATE quote_papers SET pdf = X'00'")
    found = [one for one in checks.book(engine, tmp_path) if not one.is_well and one.must]
    assert [one.says for one in found] == ["the paper of quote 2026-1-q1 is not the one that was issued"]
    assert copy.exists()


def test_a_restore_without_room_for_the_book_before_leaves_that_book(
    engine: Engine, copy: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fill(_book: Path, kept: Path) -> None:
        kept.write_bytes(b"half a book")
        raise OSError(errno.ENOSPC, "No space left on device")

    with engines.session(engine) as session:
        later = an_order(session).number
    engine.dispose()
    monkeypatch.setattr("studio.book.restoring.shutil.copyfile", fill)
    with pytest.raises(RestoreRefused, match="no room"):
        restore(copy, tmp_path / "book.db", now=NOW)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book.db", "copy.db"]
    with engines.session(engine) as session:
        assert order(session, later).number == later


def test_a_restore_without_room_for_the_copy_leaves_the_book(
    copy: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class OnASmallDisk(sqlite3.Connection):
        def __init__(self, path: object, *, uri: bool = False) -> None:
            super().__init__(str(path), uri=uri)
            if not uri:
                self.execute("PRAGMA max_page_count = 8").close()

    before = (tmp_path / "book.db").read_bytes()
    monkeypatch.setattr("studio.book.restoring.sqlite3.connect", OnASmallDisk)
    with pytest.raises(RestoreRefused, match="no room"):
        restore(copy, tmp_path / "book.db", now=NOW)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["book.db", "copy.db"]
    assert (tmp_path / "book.db").read_bytes() == before
