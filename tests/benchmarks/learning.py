"""What the app does to answer a request, watched once from inside: its statements, its craft, its bytes.

The floor does the same again with nothing around it. So the two always answer alike, and no second copy of
the pages has to be kept in step.
"""

import asyncio
import re
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from html import escape
from types import FrameType
from typing import Any

import httpx
from sqlalchemy import Engine, event

from studio import clock
from studio.book.keys import hash_of
from studio.craft.drawing import Svg, counter_drawing
from studio.craft.pricing import price
from studio.craft.reckonings import reckon
from studio.settings import Settings
from studio.web.app import create_app
from studio.web.days import moment_words
from tests.benchmarks.asked import Asked

CRAFT = {made.__code__: made for made in (reckon, counter_drawing, price)}
_NOT_ASKED = ("BEGIN", "PRAGMA", "SET ", "COMMIT", "ROLLBACK")
_SHORTEST = 4
_KEY = re.compile(r'name="idempotency_key"\s+value="([^"]+)"')


@dataclass(frozen=True, slots=True)
class Statement:
    """A statement as it reached the driver. `key_places` are the parameters that hold the sign-in's hash."""

    text: str
    parameters: Any
    key_places: tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Cell:
    """A place in the answer that a value of the book fills: of which statement, row and column."""

    statement: int
    row: int
    column: int


@dataclass(frozen=True, slots=True)
class Drawn:
    """A place in the answer that a drawing fills: of which call."""

    call: int


class Moment:
    """A place in the answer where the moment stands."""


class Key:
    """A place in the answer where a key stands that is new each time."""


Piece = bytes | Cell | Drawn | Moment | Key


@dataclass(frozen=True, slots=True)
class Learnt:
    """All it takes to answer a request again."""

    asked: Asked
    statements: tuple[Statement, ...]
    calls: tuple[tuple[Callable[..., Any], dict[str, Any]], ...]
    headers: tuple[tuple[bytes, bytes], ...]
    pieces: tuple[Piece, ...]


def learnt(
    settings: Settings, engine: Engine, cookie: str, requests: Sequence[Asked], zone: str
) -> list[Learnt]:
    """Let the app answer each request in this process and watch it do so."""
    app = create_app(settings, engine)
    found = []

    async def ask(one: Asked) -> httpx.Response:
        headers = {"cookie": f"shankwright={cookie}"} | ({"content-type": one.kind} if one.kind else {})
        transport = httpx.ASGITransport(app=app)
        async with httpx.AsyncClient(transport=transport, base_url=settings.base_url) as client:
            answer = await client.request(one.method, one.path, headers=headers, content=one.body)
        assert answer.status_code == httpx.codes.OK, answer.text
        return answer

    for one in requests:
        asyncio.run(ask(one))
        with _watched(engine, hash_of(cookie)) as (statements, calls):
            moment = moment_words(clock.now(), zone)
            answer = asyncio.run(ask(one))
        found.append(_learnt(one, engine, (statements, calls), answer, moment))
    return found


@contextmanager
def _watched(engine: Engine, key_hash: str) -> Iterator[tuple[list[Statement], list[Any]]]:
    statements: list[Statement] = []
    calls: list[Any] = []

    def before(_c: object, _cursor: object, text: str, given: Any, _context: object, _many: object) -> None:
        if not text.startswith(_NOT_ASKED):
            named = given.items() if isinstance(given, dict) else enumerate(given)
            statements.append(Statement(text, given, tuple(at for at, value in named if value == key_hash)))

    def call(frame: FrameType, kind: str, _argument: object) -> None:
        if kind == "call" and frame.f_code in CRAFT:
            calls.append((CRAFT[frame.f_code], dict(frame.f_locals)))

    event.listen(engine, "before_cursor_execute", before)
    threading.setprofile(call)
    sys.setprofile(call)
    try:
        yield statements, calls
    finally:
        sys.setprofile(None)
        threading.setprofile(None)
        event.remove(engine, "before_cursor_execute", before)


def _learnt(
    one: Asked,
    engine: Engine,
    watched: tuple[list[Statement], list[Any]],
    answer: httpx.Response,
    moment: str,
) -> Learnt:
    statements, calls = watched
    holes: list[tuple[str, Piece]] = [(moment, Moment())]
    if key := _KEY.search(answer.text):
        holes.append((key.group(1), Key()))
    for place, (made, given) in enumerate(calls):
        drawn = made(**given)
        if isinstance(drawn, Svg):
            holes.append((drawn.__html__(), Drawn(place)))
    with engine.connect() as connection:
        driver: Any = connection.connection.driver_connection
        cursor = driver.cursor()
        rows = [cursor.execute(told.text, told.parameters).fetchall() for told in statements]
    return Learnt(
        one,
        tuple(statements),
        tuple(calls),
        tuple(sorted(answer.headers.raw)),
        tuple(_pieces(answer.text, holes, list(_own_values(rows)))),
    )


def _own_values(rows: list[Any]) -> Iterator[tuple[str, Cell]]:
    """What each row has of its own: texts that no other row of the same answer has, such as a number."""
    for statement, found in enumerate(rows):
        for column in range(len(found[0]) if found else 0):
            texts = [row[column] for row in found]
            for row, text in enumerate(texts):
                if isinstance(text, str) and len(text) >= _SHORTEST and texts.count(text) == 1:
                    yield escape(text), Cell(statement, row, column)


def _pieces(html: str, holes: list[tuple[str, Piece]], cells: list[tuple[str, Cell]]) -> Iterator[Piece]:
    """The answer cut where values stand: drawings, moment and key first, since values may stand in them."""
    by_text: dict[str, Piece] = dict(reversed(cells)) | dict(holes)
    longest_first = sorted(by_text, key=len, reverse=True)
    cut = re.compile("|".join(re.escape(text) for text in longest_first))
    end = 0
    for found in cut.finditer(html):
        if found.start() > end:
            yield html[end : found.start()].encode()
        yield by_text[found.group()]
        end = found.end()
    yield html[end:].encode()
