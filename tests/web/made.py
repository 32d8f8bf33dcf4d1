"""Books with Maren, Ivo and Tilde, made once on each database and copied for each test."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from studio.craft.roles import Role
from tests.postgresql.both import POSTGRESQL
from tests.postgresql.copies import Copies, copies_of
from tests.postgresql.server import Server
from tests.web.house import Fresh, file_url, make_book

Known = tuple[dict[Role, str], dict[Role, str]]
"""Tokens and keys, by role."""


@pytest.fixture(scope="session")
def made_book(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Known]:
    """The book in a file: the folder it lies in."""
    home = tmp_path_factory.mktemp("made")
    return home, make_book(home)


@pytest.fixture(scope="session")
def made_copies(server: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Copies, Known]]:
    """The book in a server: its copies."""
    known = make_book(tmp_path_factory.mktemp("made"), server.make("made"))
    copies = copies_of(server, "made")
    yield copies, known
    copies.close()


@pytest.fixture
def fresh(database: str, request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Fresh]:
    """A fresh book on the database of the test."""
    if database == POSTGRESQL:
        copies, known = request.getfixturevalue("made_copies")
        with copies.lent() as url:
            yield Fresh(url, *known)
        return
    home, known = request.getfixturevalue("made_book")
    shutil.copy(home / "book.db", tmp_path / "book.db")
    yield Fresh(file_url(tmp_path), *known)
