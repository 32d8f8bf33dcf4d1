"""A page that is typed into asks anew before the last answer came: nobody waits for that one any more."""

import asyncio
import logging
from typing import Any

import pytest

from studio.craft.roles import Role
from tests.web.house import House


def test_a_request_that_is_given_up_while_it_is_sent_is_no_fault(
    house: House, caplog: pytest.LogCaptureFixture
) -> None:
    sent: list[Any] = []
    parts = iter(
        [
            {"type": "http.request", "body": b"width=6&thick", "more_body": True},
            {"type": "http.disconnect"},
        ]
    )

    async def receive() -> Any:
        return next(parts)

    async def send(message: Any) -> None:
        sent.append(message)

    scope = {
        "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": "POST",
        "scheme": "http", "path": "/counter/figures", "raw_path": b"/counter/figures", "query_string": b"",
        "root_path": "", "client": ("127.0.0.1", 50000), "server": ("127.0.0.1", 8321),
        "headers": [
            (b"host", b"127.0.0.1:8321"),
            (b"sec-fetch-site", b"same-origin"),
            (b"content-type", b"application/x-www-form-urlencoded"),
            (b"cookie", f"shankwright={house.keys[Role.COUNTER]}".encode()),
        ],
    }  # fmt: skip
    with caplog.at_level(logging.ERROR):
        asyncio.run(house.app(scope, receive, send))
    assert sent == []
    assert caplog.records == []
