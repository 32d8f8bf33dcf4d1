"""What most tests stand on: a book in a file of its own, and somebody signed in to its app."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI
from sqlalchemy import Engine
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.links import enter_by_link, make_link
from studio.book.people import PROGRAM, Actor, users
from studio.book.tokens import make_token
from studio.clock import now as this_moment
from studio.craft.roles import Role
from studio.settings import Settings
from tests.asgi import InProcess
from tests.builders import PASSPHRASE
from tests.founding import PEOPLE, found_book
from tests.postgresql.both import POSTGRESQL, SQLITE, databases_of
from tests.postgresql.fixtures import empty_database, founded_copies, server, server_book_url
from tests.web.made import fresh, made_book, made_copies

__all__ = [
    "empty_database",
    "founded_copies",
    "fresh",
    "made_book",
    "made_copies",
    "server",
    "server_book_url",
]


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """A test with a book runs once for each database it is a test of."""
    if "database" in metafunc.fixturenames:
        found = databases_of(metafunc.module.__name__, metafunc.function.__name__)
        if found != (SQLITE,):
            metafunc.parametrize("database", found)


LONG = (
    "tests/fuzz/test_described_answers.py",
    "tests/faults/test_killed.py",
    "tests/web/test_security_roles.py",
    "tests/faults/test_full_disk.py",
    "tests/postgresql/test_two_processes.py",
)
"""What takes longest comes first, so that no worker is left alone with it at the end."""


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """After the order by lot."""
    items.sort(key=lambda item: not item.nodeid.startswith(LONG))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """All tests of a file go to one worker, in the order above: what a file makes is made once."""
    from xdist.scheduler import LoadFileScheduling  # type: ignore[import-untyped]  # it brings no types

    config.option.loadscopereorder = False  # the files with most tests are not those that take longest
    return LoadFileScheduling(config, log)


@pytest.fixture(autouse=True)
def no_settings_from_outside(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the machine is set to, tests start from the defaults."""
    import os

    for name in [name for name in os.environ if name.startswith("STUDIO_")]:
        monkeypatch.delenv(name)


@pytest.fixture(scope="session")
def founded_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book brought up by the migrations, with a studio and three people; copied for each test."""
    path = tmp_path_factory.mktemp("founded") / "book.db"
    engine = engines.open_book(f"sqlite:///{path}")
    found_book(engine)
    engine.dispose()
    return path


@pytest.fixture
def database() -> str:
    """The kind of database the book of a test lies in."""
    return SQLITE


@pytest.fixture
def book_url(database: str, request: pytest.FixtureRequest, founded_book: Path, tmp_path: Path) -> str:
    """The address of a fresh book."""
    if database == POSTGRESQL:
        return str(request.getfixturevalue("server_book_url"))
    shutil.copy(founded_book, tmp_path / "book.db")
    return f"sqlite:///{tmp_path / 'book.db'}"


@pytest.fixture
def empty_url(database: str, request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of a book without a table."""
    if database == POSTGRESQL:
        return str(request.getfixturevalue("empty_database"))
    return f"sqlite:///{tmp_path / 'empty.db'}"


@pytest.fixture
def engine(book_url: str) -> Iterator[Engine]:
    """A fresh book, opened."""
    opened = engines.open_book(book_url)
    yield opened
    opened.dispose()


@pytest.fixture
def session(engine: Engine) -> Iterator[Session]:
    """A session with a fresh book."""
    with engines.session(engine) as opened:
        yield opened


@pytest.fixture
def people(session: Session) -> dict[Role, Actor]:
    """The three people of the studio by their role."""
    return {user.role: user.actor for user in users(session)}


@pytest.fixture
def app(engine: Engine, tmp_path: Path) -> FastAPI:
    """The web app for a fresh book."""
    from studio.web.app import create_app

    return create_app(Settings(home=tmp_path), engine)


@pytest.fixture
def stranger(app: FastAPI) -> Iterator[httpx.Client]:
    """A browser nobody has signed in with."""
    with httpx.Client(transport=InProcess(app), base_url="http://127.0.0.1:8321") as client:
        yield client


@pytest.fixture
def client_as(app: FastAPI, engine: Engine) -> Iterator[Callable[[Role], httpx.Client]]:
    """A browser signed in as the person of a role: `client_as(Role.COUNTER).get("/orders")`."""
    with ExitStack() as opened, InProcess(app) as transport:

        def signed_in(role: Role) -> httpx.Client:
            name = next(name for name, its in PEOPLE.items() if its is role)
            with engines.session(engine) as session:
                link = make_link(session, user_name=name, actor=PROGRAM, now=this_moment())
                entered = enter_by_link(session, key=link, now=this_moment(), passphrase=PASSPHRASE)
            client = httpx.Client(
                transport=transport,
                base_url="http://127.0.0.1:8321",
                cookies={"shankwright": entered.key},
            )
            opened.callback(client.close)
            return client

        yield signed_in


@pytest.fixture
def client(client_as: Callable[[Role], httpx.Client]) -> httpx.Client:
    """A browser signed in as the owner."""
    return client_as(Role.OWNER)


@pytest.fixture
def api_as(app: FastAPI, engine: Engine) -> Iterator[Callable[[Role], httpx.Client]]:
    """A program with a bearer token of a role."""
    with ExitStack() as opened, InProcess(app) as transport:

        def with_token(role: Role) -> httpx.Client:
            with engines.session(engine) as session:
                token = make_token(session, name=f"test {role}", role=role, actor=PROGRAM, now=this_moment())
            client = httpx.Client(
                transport=transport,
                base_url="http://127.0.0.1:8321",
                headers={"Authorization": f"Bearer {token}"},
            )
            opened.callback(client.close)
            return client

        yield with_token


@pytest.fixture
def api(api_as: Callable[[Role], httpx.Client]) -> httpx.Client:
    """A program with the owner's rights."""
    return api_as(Role.OWNER)
