"""A studio with one open quote, its link, and a stranger's browser that opens and answers it."""

import re

import httpx
import pytest

from studio.craft.roles import Role
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import quoted, set_up

NUMBER = "2026-1"
QUOTE = f"{NUMBER}-q1"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """A studio with one open quote."""
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
    quoted(opened)
    return opened


def a_link(morning: Morning, number: str = QUOTE) -> str:
    """The path of a fresh link, as the quote's page shows it once."""
    cookie = {"cookie": f"shankwright={morning.keys[Role.COUNTER]}"}
    answer = morning.house.browse("POST", f"/quotes/{number}/link", headers=cookie)
    found = re.search(r"(/answer/[A-Za-z0-9_-]+)", answer.text)
    assert found is not None, answer.text
    return found[1]


def opened(morning: Morning, path: str) -> httpx.Response:
    """What a stranger's browser gets."""
    answer: httpx.Response = morning.house.browse("GET", path, None)
    return answer


def sent(morning: Morning, path: str, **fields: str) -> httpx.Response:
    """What a stranger's browser gets for the form as it is typed."""
    answer: httpx.Response = morning.house.browse("POST", path, None, data=fields)
    return answer


def yes(name: str = "Jorun Müller", **more: str) -> dict[str, str]:
    return {"name": name, "read": "yes", "act": "yes"} | more
