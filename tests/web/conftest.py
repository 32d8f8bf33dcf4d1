from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI

from studio.book.engine import open_book
from studio.web.app import create_app
from tests.web.house import Fresh, House, a_house, settings


@pytest.fixture(scope="session")
def shared_app(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """The app, made once; every test gives it its own book."""
    return create_app(settings(tmp_path_factory.mktemp("shared")), open_book("sqlite://"))


@pytest.fixture
def house(fresh: Fresh, tmp_path: Path, shared_app: FastAPI) -> Iterator[House]:
    """A studio to test on: its own book, the shared app."""
    with a_house(tmp_path, fresh, shared_app) as opened:
        yield opened


@pytest.fixture
def new_house(fresh: Fresh, tmp_path: Path) -> Iterator[House]:
    """A studio with an app of its own, for a test that changes the app."""
    with a_house(tmp_path, fresh) as opened:
        yield opened
