"""Steps of signing in that several tests take."""

from datetime import timedelta

import httpx
import pytest

from studio import clock
from studio.book.engine import session
from studio.book.links import make_link
from studio.book.people import PROGRAM
from tests.web.house import PASSPHRASE, House

NEW_PASSPHRASE = "a rose on the windowsill"


def sign_in(house: House, passphrase: str = PASSPHRASE, name: str = "Maren", **fields: str) -> httpx.Response:
    return house.browse("POST", "/sign-in", None, data={"name": name, "passphrase": passphrase} | fields)


def key_of(answer: httpx.Response) -> str:
    """The value of the cookie an answer sets."""
    name, _, value = answer.headers["set-cookie"].partition(";")[0].partition("=")
    assert name == "shankwright"
    return str(value)


def opens(house: House, key: str) -> bool:
    return (
        house.browse("GET", "/api/alloys", None, headers={"cookie": f"shankwright={key}"}).status_code == 200
    )


def a_link(house: House, name: str = "Ivo") -> str:
    with session(house.engine) as book:
        return f"/enter/{make_link(book, user_name=name, actor=PROGRAM, now=clock.now())}"


def later(monkeypatch: pytest.MonkeyPatch, by: timedelta) -> None:
    """Let the clock say what it will say after `by`."""
    moment = clock.now() + by
    monkeypatch.setattr(clock, "now", lambda: moment)
