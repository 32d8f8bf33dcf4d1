"""The fixtures of a book in a server: one server for a worker, books made once in it, a copy a test."""

from collections.abc import Iterator
from itertools import count

import pytest

from studio.book.engine import open_book
from tests.founding import found_book
from tests.postgresql.copies import Copies, copies_of
from tests.postgresql.server import Server, a_server

_TURN = count(1)


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """A PostgreSQL server; it starts with the first test that asks for one."""
    with a_server() as running:
        yield running


@pytest.fixture(scope="session")
def founded_copies(server: Server) -> Iterator[Copies]:
    """Copies of a book with a studio and three people."""
    engine = open_book(server.make("founded"))
    found_book(engine)
    engine.dispose()
    copies = copies_of(server, "founded")
    yield copies
    copies.close()


@pytest.fixture
def empty_database(server: Server) -> Iterator[str]:
    """The address of a database without a table."""
    name = f"empty_{next(_TURN)}"
    yield server.make(name)
    server.drop(name)


@pytest.fixture
def server_book_url(founded_copies: Copies) -> Iterator[str]:
    """The address of a fresh book in the server."""
    with founded_copies.lent() as url:
        yield url
