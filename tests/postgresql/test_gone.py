"""A server that goes away: a sentence instead of a fault, and work that goes on when it is back."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Connection, Engine, event

from studio.book import engine as engines
from studio.book.errors import BookGone
from studio.book.order_reads import state_counts
from studio.book.transaction import transaction
from studio.craft.roles import Role
from tests.builders import an_order
from tests.postgresql.both import POSTGRESQL
from tests.web.house import Fresh, House, a_house
from tests.web.house import an_order as sent_order

NOT_THERE = (
    "The server that keeps the book does not answer. Nothing of this was saved. Try again in a moment."
)
HEADING = "The book cannot be reached"
UNSURE = "The server that keeps the book does not answer. Look whether it was saved before you send it again."
END_ALL = (
    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity "
    "WHERE datname = current_database() AND pid <> pg_backend_pid()"
)


@pytest.fixture
def database() -> str:
    """These are tests of a server."""
    return POSTGRESQL


@pytest.fixture
def house(fresh: Fresh, tmp_path: Path) -> Iterator[House]:
    """A studio with its book in a server."""
    with a_house(tmp_path, fresh) as opened:
        yield opened


def end_connections(url: str) -> None:
    """End every connection to the book, as a restart of its server does."""
    keeper = engines.open_book(url)
    with keeper.connect() as connection:
        connection.exec_driver_sql(END_ALL)
    keeper.dispose()


def end_itself(connection: Connection) -> None:
    """End the connection that is about to save."""
    end_connections(connection.engine.url.render_as_string(hide_password=False))


def test_after_a_restart_of_the_server_the_next_request_goes_through(house: House) -> None:
    number = house.take_order()
    end_connections(house.url)
    assert house.ask("GET", f"/api/orders/{number}").status_code == 200
    end_connections(house.url)
    house.take_order()


def test_without_its_server_a_page_and_a_program_hear_a_sentence(house: House, tmp_path: Path) -> None:
    there, away = house.app.state.engine, engines.open_book(f"postgresql://studio@/book?host={tmp_path}")
    house.app.state.engine = away
    for path in ("/", "/orders", "/orders/new"):
        page = house.browse("GET", path)
        assert page.status_code == 503
        assert page.headers["retry-after"] == "2"
        assert HEADING in page.text
        assert "busy" not in page.text
        assert NOT_THERE in page.text
    told = house.ask("POST", "/api/orders", Role.COUNTER, json=sent_order())
    assert (told.status_code, told.headers["retry-after"]) == (503, "2")
    assert told.json() == {"errors": [{"field": None, "message": NOT_THERE}]}
    house.app.state.engine = there
    away.dispose()
    house.take_order()


def test_a_server_lost_in_the_middle_saved_nothing(engine: Engine) -> None:
    def lose() -> None:
        with engines.session(engine) as book, transaction(book):
            an_order(book)
            end_itself(book.connection())
            an_order(book)

    with pytest.raises(BookGone) as told:
        lose()
    assert told.value.is_saved is False
    with engines.session(engine) as book:
        assert sum(state_counts(book).values()) == 0
        assert an_order(book).number == "2026-1"


def test_a_server_lost_with_the_last_word_leaves_it_open_whether_it_saved(house: House) -> None:
    event.listen(house.engine, "commit", end_itself)
    told = house.ask("POST", "/api/orders", json=sent_order(), headers={"idempotency-key": "k-1"})
    event.remove(house.engine, "commit", end_itself)
    assert told.status_code == 503
    assert told.json() == {"errors": [{"field": None, "message": UNSURE}]}
    # The key makes it safe to ask again.
    taken = house.ask("POST", "/api/orders", json=sent_order(), headers={"idempotency-key": "k-1"})
    assert taken.status_code == 201
    assert len(house.ask("GET", "/api/orders").json()["items"]) == 1
