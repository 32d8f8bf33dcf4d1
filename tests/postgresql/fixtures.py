"""The fixtures of a book in a server: one server for a run, one founded book in it, a copy for each test."""

from collections.abc import Iterator
from itertools import count

import pytest

from studio.book.engine import open_book
from tests.founding import found_book
from tests.postgresql.server import Server, a_server

_FOUNDED = "founded"
_TURN = count(1)


@pytest.fixture(scope="session")
def server() -> Iterator[Server]:
    """A PostgreSQL server; it starts with the first test that asks for one."""
    with a_server() as running:
        yield running


@pytest.fixture(scope="session")
def founded_database(server: Server) -> str:
    """The name of a database with a studio and three people, to make copies of."""
    engine = open_book(server.make(_FOUNDED))
    found_book(engine)
    engine.dispose()
    return _FOUNDED


@pytest.fixture
def empty_database(server: Server) -> Iterator[str]:
    """The address of a database without a table."""
    name = f"empty_{next(_TURN)}"
    yield server.make(name)
    server.drop(name)


@pytest.fixture
def server_book_url(server: Server, founded_database: str) -> Iterator[str]:
    """The address of a fresh book in the server."""
    name = f"book_{next(_TURN)}"
    yield server.make(name, founded_database)
    server.drop(name)
