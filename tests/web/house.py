"""A small studio to test the web app on: a book with its people, and a way to speak to the app as each."""

import asyncio
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx
from fastapi import FastAPI
from sqlalchemy import Engine

from studio import clock
from studio.book.engine import open_book, session
from studio.book.passphrases import set_passphrase
from studio.book.people import PROGRAM, add_user
from studio.book.schema import bring_up_to_date
from studio.book.sign_in import open_sign_in
from studio.book.studio import Studio, found_studio
from studio.book.tokens import make_token
from studio.craft.roles import Role
from studio.settings import Settings
from studio.web.app import create_app

PEOPLE = {Role.OWNER: "Maren", Role.COUNTER: "Ivo", Role.MAKER: "Tilde"}
PASSPHRASE = "four rings in a drawer"
BASE_URL = "http://127.0.0.1:8321"


@dataclass(frozen=True, slots=True)
class Fresh:
    """A book nobody has written in since it was made: its address, the tokens and the keys of its people."""

    url: str
    tokens: Mapping[Role, str]
    keys: Mapping[Role, str]


@dataclass(frozen=True, slots=True)
class House:
    """The app over a book of its own. `tokens` opens it to programs, `keys` are the cookies of the people."""

    engine: Engine
    app: FastAPI
    tokens: Mapping[Role, str]
    keys: Mapping[Role, str]
    home: Path

    @property
    def url(self) -> str:
        """The address of its book."""
        return self.engine.url.render_as_string(hide_password=False)

    def ask(self, method: str, path: str, role: Role | None = Role.OWNER, **given: Any) -> httpx.Response:
        """What the app answers a program of this role; None asks as a stranger."""
        headers = httpx.Headers(given.pop("headers", {}))
        if role is not None:
            headers.setdefault("authorization", f"Bearer {self.tokens[role]}")
        return self.send(method, path, headers=headers, **given)

    def browse(self, method: str, path: str, role: Role | None = Role.OWNER, **given: Any) -> httpx.Response:
        """What the app answers this person's browser."""
        headers = httpx.Headers({"sec-fetch-site": "same-origin"} | dict(given.pop("headers", {})))
        if role is not None:
            headers.setdefault("cookie", f"shankwright={self.keys[role]}")
        return self.send(method, path, headers=headers, **given)

    def send(self, method: str, path: str, **given: Any) -> httpx.Response:
        """What the app answers a request as it is."""
        return asyncio.run(self.sends(method, path, **given))

    async def sends(self, method: str, path: str, **given: Any) -> httpx.Response:
        """As `send`, for several at once."""
        transport = httpx.ASGITransport(app=self.app)
        async with httpx.AsyncClient(transport=transport, base_url=BASE_URL) as client:
            return await client.request(method, path, **given)

    def take_order(self, **changes: Any) -> str:
        """The number of a fresh order."""
        taken = self.ask("POST", "/api/orders", json=an_order(**changes))
        assert taken.status_code == 201, taken.text
        number: str = taken.json()["number"]
        return number


def a_ring(**changes: Any) -> dict[str, Any]:
    """A hammered flat ring from a gauge as wide as itself, as the API takes it."""
    finger = {
        "system": "uk",
        "size": "O½",
        "measured": "gauge",
        "gauge_width_mm": 6,
        "hand": "left",
        "name": "ring",
    }
    ring = {
        "finger": finger | changes.pop("finger", {}),
        "profile": "flat",
        "width": 6,
        "thickness": "1.6 mm",
        "alloy": "silver-925",
        "pattern": "hammered",
    }
    return {name: value for name, value in (ring | changes).items() if value is not ...}


def an_order(**changes: Any) -> dict[str, Any]:
    """An order of one ring that lacks nothing for a quote."""
    wanted = clock.today("Europe/London").replace(day=1)
    order = {
        "customer": {
            "name": "Ottilie Marchbanks",
            "phone": "01632 960 411",
            "email": "ottilie@march.example",
        },
        "wanted_on": wanted.replace(year=wanted.year + 1).isoformat(),
        "rings": [a_ring()],
    }
    return order | changes


def put(order: dict[str, Any], path: str, value: object) -> dict[str, Any]:
    """The order with the field at `path` set; 'rings.0.finger.size' reaches into the ring."""
    *groups, last = path.split(".")
    here: Any = order
    for group in groups:
        here = here[int(group)] if isinstance(here, list) else here.setdefault(group, {})
    here[last] = value
    return order


def settings(home: Path, **given: Any) -> Settings:
    """Settings as on the studio's own machine."""
    return Settings(home=home, **given)


def make_book(home: Path, url: str | None = None) -> tuple[dict[Role, str], dict[Role, str]]:
    """A new book with Maren, Ivo and Tilde, in a file in `home` unless `url` says where; gives their tokens
    and the keys of their sign-ins.
    """
    engine = open_book(url or file_url(home))
    now = clock.now()
    bring_up_to_date(engine, now=now)
    tokens, keys = {}, {}
    with session(engine) as book:
        found_studio(book, facts=Studio("Wrenfold", "goldsmiths"), actor=PROGRAM, now=now)
        for role, name in PEOPLE.items():
            user = add_user(book, name=name, role=role, actor=PROGRAM, now=now)
            set_passphrase(book, user_id=user.id, passphrase=PASSPHRASE, actor=PROGRAM, now=now)
            keys[role] = open_sign_in(book, user_id=user.id, now=now).key
            tokens[role] = make_token(book, name=f"{name}'s program", role=role, actor=PROGRAM, now=now)
    engine.dispose()
    return tokens, keys


def file_url(home: Path) -> str:
    """The address of the book in the file of a folder."""
    return f"sqlite:///{home / 'book.db'}"


@contextmanager
def a_house(home: Path, fresh: Fresh, app: FastAPI | None = None) -> Iterator[House]:
    """A house over a fresh book; `app` is one to use again, as a new one takes its time."""
    engine = open_book(fresh.url)
    if app is None:
        app = create_app(settings(home), engine)
    app.state.engine = engine
    yield House(engine, app, fresh.tokens, fresh.keys, home)
    engine.dispose()
