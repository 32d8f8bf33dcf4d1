"""The floor: the least a program can do for the same answer, on the same server with the same settings.

A bare ASGI app that looks the sign-in up, runs the statements of the page by the driver alone, calls the same
craft, and puts what it found into the text of the page. No framework, no ORM, no template.

`python -m tests.benchmarks.floors --home FOLDER --port 8400 --key KEY --asked FILE` serves it.
"""

import argparse
import json
import pickle
import secrets
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl

from fastapi import FastAPI
from sqlalchemy import Engine

from studio import clock
from studio.book.engine import open_book, session
from studio.book.keys import hash_of
from studio.book.studio import time_zone
from studio.serving import listening, run
from studio.settings import Settings, read_settings
from studio.web.days import moment_words
from tests.benchmarks.asked import Asked
from tests.benchmarks.learning import Cell, Drawn, Key, Learnt, Moment, Statement, learnt

Answered = Callable[[dict[bytes, bytes], bytes], bytes | None]


class Floor:
    """The bare app. Requests it did not learn are 404, strangers 401."""

    def __init__(self, taught: list[Learnt], connection: Any, zone: str) -> None:
        self.taught = taught
        self._by_path = {(one.asked.method, *_parted(one.asked.path)): one for one in taught}
        self._connection = connection
        self._cursor = connection.cursor()
        self._zone = zone

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await _lives(receive, send)
            return
        body = b""
        while True:
            message = await receive()
            body += message.get("body", b"")
            if not message.get("more_body", False):
                break
        one = self._by_path.get((scope["method"], scope["path"], scope["query_string"].decode()))
        told = None if one is None else self.answer(one, dict(scope["headers"]), body)
        status = 404 if one is None else 401 if told is None else 200
        headers = one.headers if one is not None and told is not None else ()
        await send({"type": "http.response.start", "status": status, "headers": headers})
        await send({"type": "http.response.body", "body": told or b""})

    def close(self) -> None:
        """Let go of the book."""
        self._connection.close()

    def answer(self, one: Learnt, headers: dict[bytes, bytes], body: bytes) -> bytes | None:
        """The bytes for this request, None for a stranger."""
        key = headers.get(b"cookie", b"").decode().partition("=")[2]
        if one.asked.kind == "application/json":
            json.loads(body)
        elif one.asked.kind:
            dict(parse_qsl(body.decode(), keep_blank_values=True))
        key_hash = hash_of(key)
        rows = []
        for told in one.statements:
            found = self._cursor.execute(told.text, _given(told, key_hash)).fetchall()
            if told.key_places and not found:
                return None
            rows.append(found)
        made = [call(**given) for call, given in one.calls]
        fresh = secrets.token_urlsafe(18)
        return b"".join(
            piece if isinstance(piece, bytes) else f"{self._filled(piece, rows, made, fresh)}".encode()
            for piece in one.pieces
        )

    def _filled(
        self, piece: Cell | Drawn | Moment | Key, rows: list[Any], made: list[Any], fresh: str
    ) -> str:
        match piece:
            case Cell(statement, row, column):
                return _escaped(rows[statement][row][column])
            case Drawn(call):
                drawn: str = made[call].__html__()
                return drawn
            case Moment():
                return moment_words(clock.now(), self._zone)
            case Key():
                return fresh


def _escaped(text: str) -> str:
    if text.isalnum():
        return text
    return (
        text.replace("&", "&amp;")
        .replace(">", "&gt;")
        .replace("<", "&lt;")
        .replace("'", "&#39;")
        .replace('"', "&#34;")
    )


def _parted(path: str) -> tuple[str, str]:
    bare, _, query = path.partition("?")
    return bare, query


def _given(told: Statement, key_hash: str) -> Any:
    if not told.key_places:
        return told.parameters
    if isinstance(told.parameters, dict):
        return told.parameters | dict.fromkeys(told.key_places, key_hash)
    return tuple(key_hash if at in told.key_places else value for at, value in enumerate(told.parameters))


async def _lives(receive: Any, send: Any) -> None:
    while True:
        message = await receive()
        await send({"type": f"{message['type']}.complete"})
        if message["type"] == "lifespan.shutdown":
            return


def floor_app(settings: Settings, engine: Engine, key: str, requests: list[Asked]) -> Floor:
    """The floor for these requests, on a connection of its own."""
    with session(engine) as book:
        zone = time_zone(book)
    taught = learnt(settings, engine, key, requests, zone)
    if engine.url.get_backend_name() == "sqlite":
        bare: Any = sqlite3.connect(str(engine.url.database), isolation_level=None)
    else:
        import psycopg

        url = engine.url.set(drivername="postgresql").render_as_string(hide_password=False)
        bare = psycopg.connect(url, autocommit=True)
    return Floor(taught, bare, zone)


def main() -> None:
    """Serve the floor of a book until it is told to stop."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.floors", description=main.__doc__)
    parser.add_argument("--home", type=Path, required=True)
    parser.add_argument("--port", type=int, required=True)
    parser.add_argument("--key", required=True)
    parser.add_argument("--asked", type=Path, required=True)
    given = parser.parse_args()
    settings = read_settings(home=given.home, port=given.port)
    engine = open_book(settings.book_url)
    requests: list[Asked] = pickle.loads(given.asked.read_bytes())  # noqa: S301  written a moment ago by our own
    floor = floor_app(settings, engine, given.key, requests)
    bare: FastAPI = floor  # type: ignore[assignment]  # the server asks for an ASGI app and no more
    with listening(settings.host, settings.port) as bound:
        run(bare, settings, bound, lambda: print("Listening on", settings.base_url, flush=True))  # noqa: T201  what the one who started it waits for


if __name__ == "__main__":
    main()
