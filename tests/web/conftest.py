from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI

from studio.book.engine import open_book
from studio.craft.roles import Role
from studio.web.app import create_app
from tests.web.house import House, a_house, make_book, settings

Made = tuple[Path, dict[Role, str], dict[Role, str]]


@pytest.fixture(scope="session")
def made_book(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """A book made once; every test works on its own copy."""
    home = tmp_path_factory.mktemp("made")
    return home, *make_book(home)


@pytest.fixture(scope="session")
def shared_app(made_book: Made) -> FastAPI:
    """The app, made once; every test gives it its own book."""
    home, *_ = made_book
    return create_app(settings(home), open_book("sqlite://"))


@pytest.fixture
def house(made_book: Made, tmp_path: Path, shared_app: FastAPI) -> Iterator[House]:
    """A studio to test on: its own book, the shared app."""
    made, tokens, keys = made_book
    with a_house(tmp_path, made, tokens, keys, shared_app) as opened:
        yield opened


@pytest.fixture
def new_house(made_book: Made, tmp_path: Path) -> Iterator[House]:
    """A studio with an app of its own, for a test that changes the app."""
    made, tokens, keys = made_book
    with a_house(tmp_path, made, tokens, keys) as opened:
        yield opened
