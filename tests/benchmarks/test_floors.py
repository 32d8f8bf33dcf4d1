"""The floor answers with the same bytes as the app, also when the book has changed since it was learnt."""

import asyncio
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import httpx
import pytest
from sqlalchemy import text

from studio.book.engine import open_book
from studio.settings import Settings
from studio.web.app import create_app
from tests.benchmarks.asked import Asked
from tests.benchmarks.floors import Floor, floor_app
from tests.benchmarks.served import Book, a_book

_KEY = re.compile(rb'(name="idempotency_key"\s+value=")[^"]{24}')
NAMES = ("list page", "search", "order's page", "counter figures", "API reckoning")


@dataclass(frozen=True, slots=True)
class Pair:
    """App and floor over one book."""

    book: Book
    app: object
    floor: Floor

    def asked(self, name: str) -> Asked:
        return next(one for one in self.book.asked if one.name == name)

    def both(self, one: Asked, key: str) -> tuple[httpx.Response, httpx.Response]:
        """The answers of both, within the same minute, which stands on the page."""
        while True:
            app, floor, again = (_answer(which, one, key) for which in (self.app, self.floor, self.app))
            if _bytes(app) == _bytes(again):
                return app, floor


def _answer(which: object, one: Asked, key: str) -> httpx.Response:
    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(app=which)  # type: ignore[arg-type]  # both are ASGI apps
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:8321") as client:
            headers = {"cookie": f"shankwright={key}", "content-type": one.kind or "text/plain"}
            return await client.request(one.method, one.path, headers=headers, content=one.body)

    return asyncio.run(ask())


def _bytes(answer: httpx.Response) -> bytes:
    """The answer with its one-time keys, which are new in each, as alike."""
    return _KEY.sub(rb"\1", answer.content)


@pytest.fixture(params=["file", "server"])
def pair(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Pair]:
    url = None if request.param == "file" else str(request.getfixturevalue("empty_database"))
    book = a_book(tmp_path / "home", 120, url)
    engine = open_book(book.address)
    settings = Settings(home=book.home, database_url=url)
    floor = floor_app(settings, engine, book.key, list(book.asked))
    yield Pair(book, create_app(settings, engine), floor)
    floor.close()
    engine.dispose()


def test_the_floor_gives_the_bytes_of_the_app(pair: Pair) -> None:
    for name in NAMES:
        one = pair.asked(name)
        app, floor = pair.both(one, pair.book.key)
        assert (app.status_code, floor.status_code) == (200, 200)
        assert _bytes(floor) == _bytes(app), name
        assert sorted(floor.headers.raw) == sorted(app.headers.raw)


def test_the_floor_reads_the_book_each_time(pair: Pair) -> None:
    engine = open_book(pair.book.address)
    with engine.begin() as connection:
        connection.execute(text("UPDATE customers SET name = 'Zenobia <&> O''Hare-' || id"))
    engine.dispose()
    app, floor = pair.both(pair.asked("list page"), pair.book.key)
    assert b"Zenobia &lt;&amp;&gt; O&#39;Hare-" in floor.content
    assert _bytes(floor) == _bytes(app)


def test_the_floor_calls_the_craft_of_what_is_reckoned_live(pair: Pair) -> None:
    for one in pair.floor.taught:
        crafts = {call.__name__ for call, _ in one.calls}
        match one.asked.name:
            case "counter figures":
                assert crafts == {"reckon", "counter_drawing", "price"}
            case "API reckoning":
                assert crafts == {"reckon"}
            case "list page" | "search":
                assert crafts == set()


def test_the_floor_lets_no_stranger_in(pair: Pair) -> None:
    for one in pair.book.asked:
        assert _answer(pair.floor, one, "somebody-else").status_code == 401
