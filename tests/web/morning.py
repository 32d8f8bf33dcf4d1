"""The studio on the Wednesday morning that the builders live in: a book to write in, people to look with."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import Any

import pytest
from sqlmodel import Session

from studio.book.engine import session
from studio.book.people import users
from studio.book.sign_in import open_sign_in
from studio.craft.roles import Role
from tests.builders import NOW
from tests.web.house import House
from tests.web.shown import Shown


@dataclass(slots=True)
class Morning:
    """The app at a fixed moment. `keys` are the cookies of the people, by role."""

    house: House
    keys: dict[Role, str]
    monkeypatch: pytest.MonkeyPatch

    @contextmanager
    def book(self) -> Iterator[Session]:
        """The book, to write into."""
        with session(self.house.engine) as opened:
            yield opened

    def turn_to(self, now: datetime) -> None:
        """Let it be `now`."""
        self.monkeypatch.setattr("studio.clock.now", lambda: now)

    def see(self, path: str, role: Role = Role.OWNER) -> Shown:
        """The page at `path`, as this person's browser shows it."""
        return Shown(self.house.browse("GET", path, role, headers=self._cookie(role)))

    def fetch(self, path: str, role: Role = Role.OWNER) -> tuple[int, str, bytes]:
        """What the app answers a browser that fetches a file: the status, its kind, its bytes."""
        answer = self.house.browse("GET", path, role, headers=self._cookie(role))
        return answer.status_code, answer.headers.get("content-type", ""), answer.content

    def send(
        self, path: str, fields: dict[str, str], role: Role = Role.OWNER, **given: Any
    ) -> tuple[int, str, Shown]:
        """What the app answers a form: the status, where it leads, and the page that came back instead."""
        answer = self.house.browse("POST", path, role, headers=self._cookie(role), data=fields, **given)
        return answer.status_code, answer.headers.get("location", ""), Shown(answer)

    def _cookie(self, role: Role) -> dict[str, str]:
        return {"cookie": f"shankwright={self.keys[role]}"}


def a_morning(house: House, monkeypatch: pytest.MonkeyPatch, now: datetime = NOW) -> Morning:
    """The studio at `now`, Wednesday 25 November 2026, ten o'clock, everybody signed in."""
    monkeypatch.setattr("studio.clock.now", lambda: now)
    with session(house.engine) as book:
        keys = {user.role: open_sign_in(book, user_id=user.id, now=now).key for user in users(book)}
    return Morning(house, keys, monkeypatch)
