"""A quote whose customer has an address, a mail server on this machine, and the presses that send it."""

import asyncio
import re
from collections.abc import Iterator
from dataclasses import replace
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI
from sqlalchemy import Engine, Select, Text, cast, literal_column
from sqlalchemy import select as pick

from studio.book.orders import CustomerDraft
from studio.book.tables import metadata
from studio.craft.roles import Role
from studio.smtp import MailServer
from studio.web.app import create_app
from studio.web.postman import Postman
from tests.hostile import PAYLOADS
from tests.mail_server import Box, a_mail_server
from tests.web.house import House, settings
from tests.web.morning import Morning, a_morning
from tests.web.quoting import give_an_address, quoted, set_up

QUOTE, TO = "2026-1-q1", "jorun@mueller.example"
BASE = "http://127.0.0.1:8321"
MAILS = f"/quotes/{QUOTE}/mails"
HEADS_OF_THEIR_OWN = (
    *PAYLOADS,
    "Ines <all@customers.example>, Ines",
    "=?utf-8?q?Ines=0D=0ABcc:all@customers.example?=",
)


@pytest.fixture
def box() -> Iterator[Box]:
    with a_mail_server(Box()) as opened:
        yield opened


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch, box: Box) -> Morning:
    """A quote whose customer has an address, and a mail server."""
    app = app_with(house, box.server())
    opened = a_morning(replace(house, app=app), monkeypatch)
    with opened.book() as book:
        set_up(book)
        give_an_address(book)
    assert quoted(opened, customer=CustomerDraft("Jorun Müller", "01632 960 101", TO)) == QUOTE
    return opened


def app_with(house: House, server: MailServer) -> FastAPI:
    told = {"smtp_host": server.host, "smtp_port": server.port, "smtp_security": server.security}
    if server.user:
        told |= {"smtp_user": server.user, "smtp_password": server.password}
    return create_app(settings(house.home, **told), house.engine)


def rounds(morning: Morning, server: MailServer | None = None) -> int:
    """Let the app's own postman go until nothing is due; how many letters it had."""
    app = morning.house.app
    given = server or app.state.settings.mail_server
    postman = Postman(morning.house.engine, given, lambda: app.state.printer, base_url=BASE)

    async def go() -> int:
        count = 0
        while await postman.go_once():
            count += 1
        return count

    return asyncio.run(go())


def press(morning: Morning, action: str = MAILS, role: Role = Role.COUNTER, **typed: str) -> int:
    form = morning.see(f"/quotes/{QUOTE}", role).form(action)
    status, _, _ = morning.send(action, form.filled(**typed), role)
    return status


def link_in(letter: bytes) -> str:
    """The path of the one link that a letter has, in its text and its HTML alike."""
    found = {
        path
        for kind in ("plain", "html")
        for path in re.findall(rf"{BASE}(/answer/[A-Za-z0-9_-]+)", body_of(letter, kind))
    }
    (path,) = found
    return str(path)


def body_of(letter: bytes, kind: str = "plain") -> str:
    """What a letter says, as text or as HTML."""
    body = read(letter).get_body((kind,))
    assert body is not None
    words = str(body.get_content())
    return words.replace("\r\n", "\n")


def is_in_the_book(engine: Engine, words: str) -> bool:
    """Whether `words` stand anywhere in the book: in its file byte by byte, in a server in any row."""
    if engine.url.get_backend_name() == "sqlite":
        home = Path(str(engine.url.database))
        kept = [path.read_bytes() for path in home.parent.glob(f"{home.name}*")]
        return any(words.encode() in content for content in kept)
    asked: list[Select[Any]] = []
    for table in metadata().sorted_tables:
        row = cast(literal_column(f"{table.name}.*"), Text)
        asked.append(pick(literal_column("1")).select_from(table).where(row.contains(words)))
    with engine.connect() as line:
        return any(line.execute(one).first() for one in asked)


def read(letter: bytes) -> EmailMessage:
    message = message_from_bytes(letter, policy=policy.default)
    assert isinstance(message, EmailMessage)
    return message
