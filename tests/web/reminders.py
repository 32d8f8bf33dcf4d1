"""A studio that can quote and mail, and the presses that remind somebody."""

from dataclasses import replace
from datetime import timedelta

import pytest

from studio.craft.roles import Role
from studio.web.app import create_app
from tests.builders import NOW
from tests.mail_server import Box
from tests.quoting import put_figures
from tests.web.house import House, settings
from tests.web.mailing import (
    app_with,
    box,
)
from tests.web.morning import Morning, a_morning
from tests.web.quoting import give_an_address

__all__ = ["box"]


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch, box: Box) -> Morning:
    """A studio that can quote and mail, without an order yet."""
    opened = a_morning(replace(house, app=app_with(house, box.server())), monkeypatch)
    with opened.book() as book:
        put_figures(book, on=(NOW - timedelta(days=30)).date(), now=NOW - timedelta(days=30))
        put_figures(book)
        give_an_address(book)
    return opened


def page_of(number: str, kind: str) -> str:
    return f"/orders/{number}/reminders/{kind}"


def sent(morning: Morning, number: str, kind: str, act: str = "", **typed: str) -> tuple[int, str]:
    """What the app answers a press: the status, and the words of the page that came back instead."""
    path = page_of(number, kind)
    form = morning.see(path, Role.COUNTER).form(path)
    status, _, page = morning.send(path + act, form.filled(**typed), Role.COUNTER)
    return status, page.words


def without_mail(morning: Morning) -> None:
    house = morning.house
    morning.house = replace(house, app=create_app(settings(house.home), house.engine))
