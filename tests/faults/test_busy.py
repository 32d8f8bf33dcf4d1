"""A book that somebody else holds: a sentence after a while, and the same request goes through later."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta

import pytest

from studio import clock
from studio.book import engine as engines
from studio.book.tables import metadata
from studio.craft.roles import Role
from tests.postgresql.both import POSTGRESQL
from tests.web.house import House, an_order

SENTENCE = "Somebody else is writing in the book. Try again in a moment."


@pytest.fixture
def impatient(house: House, monkeypatch: pytest.MonkeyPatch) -> Iterator[House]:
    """A house whose book waits 20 ms for another writer instead of its five seconds."""
    monkeypatch.setattr(engines, "BUSY_TIMEOUT_MS", 20)
    engine = engines.open_book(house.url)
    house.app.state.engine = engine
    yield house
    engine.dispose()


@contextmanager
def held(house: House, *, from_readers: bool = False) -> Iterator[None]:
    """Another program writes in the book, and can keep readers out as well, as while its tables change."""
    other = engines.open_book(house.url)
    with other.connect().execution_options(**{engines.WRITES: True}) as connection, connection.begin():
        if from_readers and connection.dialect.name == POSTGRESQL:
            connection.exec_driver_sql(f"LOCK TABLE {', '.join(metadata().tables)}")
        elif from_readers:
            connection.exec_driver_sql("ROLLBACK")
            connection.exec_driver_sql("BEGIN EXCLUSIVE")
        yield
    other.dispose()


def test_a_program_is_told_to_try_again_and_then_can(impatient: House) -> None:
    order, key = an_order(), {"idempotency-key": "k-1"}
    with held(impatient):
        told = impatient.ask("POST", "/api/orders", json=order, headers=key)
        assert told.status_code == 503
        assert told.json() == {"errors": [{"field": None, "message": SENTENCE}]}
        assert told.headers["retry-after"] == "2"
    again = impatient.ask("POST", "/api/orders", json=order, headers=key)
    assert again.status_code == 201
    assert len(impatient.ask("GET", "/api/orders").json()["items"]) == 1


def test_the_desk_reads_a_sentence_and_the_orders_meanwhile(impatient: House) -> None:
    number = impatient.take_order()
    plan = {"version": "1", "note": "two wrens inside", "bench_on": ""}
    with held(impatient):
        told = impatient.browse("POST", f"/orders/{number}/plan", data=plan)
        assert told.status_code == 503
        assert "The book is busy" in told.text
        assert SENTENCE in told.text
        assert impatient.browse("GET", f"/orders/{number}").status_code == 200
    assert impatient.browse("POST", f"/orders/{number}/plan", data=plan).status_code == 303
    assert "two wrens inside" in impatient.browse("GET", f"/orders/{number}").text


@pytest.mark.parametrize("path", ["/", "/orders", "/sign-in", "/customers", "/week"])
def test_a_book_that_cannot_even_be_read_says_so_on_a_page(impatient: House, path: str) -> None:
    with held(impatient, from_readers=True):
        told = impatient.browse("GET", path)
    assert told.status_code == 503
    assert told.headers["retry-after"] == "2"
    assert SENTENCE in told.text
    assert impatient.browse("GET", path).status_code in {200, 303}


def test_a_program_that_cannot_even_read_is_told_the_same(impatient: House) -> None:
    with held(impatient, from_readers=True):
        told = impatient.ask("GET", "/api/orders", Role.MAKER)
    assert told.status_code == 503
    assert told.json() == {"errors": [{"field": None, "message": SENTENCE}]}


def test_who_was_away_for_a_while_still_reads_while_somebody_writes(
    impatient: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    later = clock.now() + timedelta(hours=1)
    monkeypatch.setattr("studio.clock.now", lambda: later)
    with held(impatient):
        assert impatient.browse("GET", "/orders").status_code == 200
