from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import Engine

from studio.book.engine import open_book
from tests.postgresql.both import POSTGRESQL, SQLITE


@pytest.fixture
def file_book(tmp_path: Path) -> Iterator[Engine]:
    """A book in a file, without a table."""
    engine = open_book(f"sqlite:///{tmp_path / 'book.db'}")
    yield engine
    engine.dispose()


@pytest.fixture(params=[SQLITE, POSTGRESQL])
def empty(request: pytest.FixtureRequest) -> Iterator[Engine]:
    """A book without a table, in a file and in a server."""
    if request.param == SQLITE:
        yield request.getfixturevalue("file_book")
        return
    engine = open_book(request.getfixturevalue("empty_database"))
    yield engine
    engine.dispose()
