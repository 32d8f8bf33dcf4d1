"""How the book's file is opened, and that only whole verbs are saved."""

import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from sqlalchemy import Engine
from sqlalchemy.exc import IntegrityError
from sqlmodel import Session, select

from studio.book import engine as engines
from studio.book.customer_tables import CustomerRow
from studio.book.engine import journal_mode
from studio.book.errors import BookBusy, BookFull, LibraryTooOld, NameTaken
from studio.book.orders import order, state_counts
from studio.book.people import PROGRAM, add_user, rename_user, user_named, users
from studio.book.schema import faults
from studio.book.transaction import transaction
from studio.book.types import Moment
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, an_order

FAULT_FREE = "release notes of SQLite 3.51.3, 3.50.7 and 3.44.6: the WAL-reset fault, from 3.7.0 on"


def test_every_connection_is_careful(engine: Engine) -> None:
    with engine.connect() as first, engine.connect() as second:
        for connection in (first, second):
            asked = {
                name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one()
                for name in (
                    "foreign_keys",
                    "synchronous",
                    "busy_timeout",
                    "journal_mode",
                    "mmap_size",
                    "trusted_schema",
                )
            }
            assert asked == {
                "foreign_keys": 1,
                "synchronous": 2,
                "busy_timeout": engines.BUSY_TIMEOUT_MS,
                "journal_mode": journal_mode(),
                "mmap_size": 0,
                "trusted_schema": 0,
            }


@pytest.mark.parametrize("version", [(3, 7, 17), (3, 34, 1)])
def test_an_sqlite_that_is_too_old_is_told_and_no_book_is_opened(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, version: tuple[int, ...]
) -> None:
    told = f"The SQLite of this Python is {'.'.join(map(str, version))}, and a book in a file needs 3.35.0"
    with pytest.raises(LibraryTooOld, match=told):
        engines.check_library(version)
    monkeypatch.setattr(engines, "OLDEST_SQLITE", (99, 0, 0))
    with pytest.raises(LibraryTooOld, match=r"needs 99\.0\.0 or a newer one"):
        engines.open_book(f"sqlite:///{tmp_path / 'new.db'}")
    assert not (tmp_path / "new.db").exists()


def test_the_oldest_sqlite_that_will_do_is_let_in() -> None:
    engines.check_library((3, 35, 0))
    engines.check_library()


@pytest.mark.parametrize(
    ("version", "mode"),
    [
        ((3, 7, 0), "delete"),
        ((3, 40, 1), "delete"),
        ((3, 44, 5), "delete"),
        ((3, 44, 6), "wal"),
        ((3, 45, 0), "delete"),
        ((3, 50, 6), "delete"),
        ((3, 50, 7), "wal"),
        ((3, 51, 2), "delete"),
        ((3, 51, 3), "wal"),
        ((3, 54, 1), "wal"),
    ],
)
def test_the_write_ahead_log_is_used_only_where_it_is_free_of_its_fault(
    version: tuple[int, ...], mode: str
) -> None:
    assert journal_mode(version) == mode, FAULT_FREE


def test_a_row_that_points_nowhere_is_refused(session: Session) -> None:
    with pytest.raises(IntegrityError), transaction(session):
        session.connection().exec_driver_sql(
            "INSERT INTO fingers (customer_id, system, label, circumference_um, taken_at) "
            "VALUES (99, 'uk', 'O', 55000, '2026-11-25')"
        )


def test_a_state_nobody_knows_is_refused_by_the_book_itself(session: Session) -> None:
    number = an_order(session).number
    with pytest.raises(IntegrityError), transaction(session):
        session.connection().exec_driver_sql("UPDATE orders SET state = 'lost'")
    assert order(session, number).state is State.DRAFT


def test_a_moment_without_a_zone_is_refused(engine: Engine) -> None:
    with pytest.raises(ValueError, match="time zone"):
        Moment().process_bind_param(NOW.replace(tzinfo=None), engine.dialect)


def test_all_of_a_transaction_is_saved_or_none(engine: Engine, session: Session) -> None:
    class Slip(Exception):
        pass

    def fail_after_writing() -> None:
        with transaction(session):
            an_order(session)
            raise Slip

    with pytest.raises(Slip):
        fail_after_writing()
    with engines.session(engine) as other:
        assert sum(state_counts(other).values()) == 0
        assert other.exec(select(CustomerRow)).all() == []


def test_an_inner_verb_that_failed_takes_the_outer_one_with_it(session: Session) -> None:
    def swallow() -> None:
        with transaction(session):
            an_order(session)
            with pytest.raises(NameTaken):
                add_user(session, name="maren", role=Role.MAKER, actor=PROGRAM, now=NOW)

    with pytest.raises(RuntimeError, match="inner"):
        swallow()
    assert sum(state_counts(session).values()) == 0
    assert an_order(session).number == "2026-1"


def test_a_change_outside_a_transaction_is_a_mistake(session: Session) -> None:
    session.add(CustomerRow(name="Stray", name_folded="stray", created_at=NOW))
    with pytest.raises(RuntimeError, match="outside"):
        an_order(session)


def test_what_was_read_before_is_read_again_under_the_lock(engine: Engine, session: Session) -> None:
    assert len(users(session)) == 3
    session.commit()  # the reading ends, what was read stays at hand
    with engines.session(engine) as other:
        ivo = user_named(other, "Ivo")
        rename_user(other, user_id=ivo.id, name="Ivor", actor=PROGRAM, now=NOW)
    with transaction(session):
        assert {user.name for user in users(session)} == {"Maren", "Ivor", "Tilde"}


def test_a_writer_waits_for_another_and_a_reader_does_not_stop_it(engine: Engine, session: Session) -> None:
    holds, may_end = threading.Event(), threading.Event()

    def hold() -> None:
        with engines.session(engine) as other, transaction(other):
            an_order(other)
            holds.set()
            may_end.wait(5)

    thread = threading.Thread(target=hold)
    thread.start()
    assert holds.wait(5)
    assert sum(state_counts(session).values()) == 0
    threading.Timer(0.2, may_end.set).start()
    assert an_order(session).number == "2026-2"
    thread.join()


def test_a_book_written_too_long_by_somebody_else_says_so(
    book_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engines, "BUSY_TIMEOUT_MS", 20)
    impatient = engines.open_book(book_url)
    patient = engines.open_book(book_url)
    with (
        engines.session(patient) as other,
        transaction(other),
        engines.session(impatient) as session,
        pytest.raises(BookBusy),
    ):
        an_order(session)
    patient.dispose()
    impatient.dispose()


def test_a_full_disk_is_told_and_leaves_the_book_whole(engine: Engine, session: Session) -> None:
    first = an_order(session)
    with engine.connect() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar_one()
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
        full = Session(connection, expire_on_commit=False)
        with pytest.raises(BookFull):
            an_order(full, note="x" * 200_000)
        full.close()
        assert connection.exec_driver_sql("PRAGMA integrity_check").scalar_one() == "ok"
    assert order(session, first.number) == first
    assert sum(state_counts(session).values()) == 1


_SCRIBE = """
import sys
from studio.book.engine import open_book, session
from tests.builders import a_finger, a_ring, an_order
engine = open_book(sys.argv[1])
with session(engine) as book:
    while True:
        print(an_order(book, rings=[a_ring(), a_ring(a_finger("R"))]).number, flush=True)
"""


def test_an_acknowledged_order_outlives_a_killed_program_and_none_is_half_there(book_url: str) -> None:
    root = Path(__file__).parents[2]
    acknowledged: list[str] = []
    for _ in range(3):
        with subprocess.Popen(
            [sys.executable, "-c", _SCRIBE, book_url], stdout=subprocess.PIPE, text=True, cwd=root
        ) as scribe:
            assert scribe.stdout is not None
            acknowledged += [scribe.stdout.readline().strip() for _ in range(10)]
            scribe.send_signal(signal.SIGKILL)
            acknowledged += scribe.stdout.read().split("\n")[:-1]
    engine = engines.open_book(book_url)
    with engines.session(engine) as book:
        for number in acknowledged:
            assert len(order(book, number).rings) == 2
        connection = book.connection()
        rings = (
            "SELECT count(*) FROM orders WHERE (SELECT count(*) FROM rings WHERE order_id = orders.id) <> 2"
        )
        assert connection.exec_driver_sql(rings).scalar_one() == 0
        last = connection.exec_driver_sql("SELECT max(serial), count(*) FROM orders").one()
        assert last[0] == last[1] >= 30
    assert faults(engine) == []
    engine.dispose()
