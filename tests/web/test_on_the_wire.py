"""The app behind its real server and a real socket: what a server does with an answer shows only there."""

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection

import pytest
import uvicorn

from studio.serving import listening
from tests.web.house import House


@contextmanager
def on_the_wire(house: House) -> Iterator[HTTPConnection]:
    """One kept-alive connection to the house, served from a thread of its own."""
    reached = threading.Event()

    class Server(uvicorn.Server):
        async def startup(self, sockets: object = None) -> None:
            await super().startup(sockets)  # type: ignore[arg-type]  # handed on as it is
            reached.set()

    with listening("127.0.0.1", 0) as bound:
        server = Server(uvicorn.Config(house.app, log_level="warning", log_config=None, ws="none"))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [bound]})
        thread.start()
        host, port = bound.getsockname()
        connection = HTTPConnection(host, port, timeout=10)
        try:
            assert reached.wait(10)
            yield connection
        finally:
            connection.close()
            server.should_exit = True
            thread.join(15)


@pytest.mark.parametrize("path", ["/health", "/sign-in", "/static/css/base.css", "/no-such-place", "/orders"])
def test_a_head_request_leaves_the_connection_whole(
    house: House, caplog: pytest.LogCaptureFixture, path: str
) -> None:
    with caplog.at_level(logging.WARNING), on_the_wire(house) as connection:
        told = []
        for method in ("HEAD", "GET", "HEAD", "GET"):
            connection.request(method, path)
            answer = connection.getresponse()
            body = answer.read()
            assert bool(body) == (method == "GET" and answer.status != 303)
            told.append((answer.status, answer.getheader("content-type"), answer.getheader("content-length")))
        assert len(set(told)) == 1
    assert [record.getMessage() for record in caplog.records] == []
