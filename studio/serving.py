"""Running the web app for a book until it is told to stop."""

import signal
import socket
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from types import FrameType

import uvicorn
from fastapi import FastAPI

from studio.settings import Settings

ADDRESS_FILE = "served-at"
"""In the book's folder while the app runs: its address, so that the other commands print links that work."""


class PortTaken(Exception):
    """Another program listens on the port."""

    def __init__(self, host: str, port: int) -> None:
        super().__init__(f"Port {port} on {host} is taken by another program. --port chooses another.")


class _Server(uvicorn.Server):
    """A server that says when it can be reached."""

    def __init__(self, config: uvicorn.Config, reached: Callable[[], None]) -> None:
        super().__init__(config)
        self.reached = reached

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Start to listen, then say so."""
        await super().startup(sockets)
        if self.started:
            self.reached()


def listening(host: str, port: int, *, may_move: bool = False) -> socket.socket:
    """A socket bound to `host` and `port`; to a free port instead where it is taken and `may_move`.

    Raises `PortTaken`.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    bound = socket.socket(family, socket.SOCK_STREAM)
    bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        try:
            bound.bind((host, port))
        except OSError:
            if not may_move:
                raise
            bound.bind((host, 0))
    except OSError as error:
        bound.close()
        raise PortTaken(host, port) from error
    return bound


def run(app: FastAPI, settings: Settings, bound: socket.socket, reached: Callable[[], None]) -> None:
    """Serve `app` on `bound` until an interrupt or a request to end; `reached` is called once it listens."""
    has_files = settings.tls == "files"
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=settings.tls == "proxy",
        forwarded_allow_ips="127.0.0.1",
        timeout_graceful_shutdown=5,
        ssl_certfile=settings.tls_certificate if has_files else None,
        ssl_keyfile=settings.tls_key if has_files else None,
    )
    note = settings.home / ADDRESS_FILE

    def say() -> None:
        with suppress(OSError):  # a full disk keeps nobody from reading the book
            note.write_text(settings.base_url, "utf-8")
        reached()

    # The server hands the signal that ended it back to us: without this it would end us before we tidied up.
    signal.signal(signal.SIGTERM, _leave)
    with suppress(KeyboardInterrupt):
        try:
            _Server(config, say).run(sockets=[bound])
        finally:
            with suppress(OSError):
                note.unlink()


def served_at(home: Path) -> str | None:
    """The address a running app wrote into the book's folder, or None."""
    note = home / ADDRESS_FILE
    return note.read_text("utf-8").strip() if note.is_file() else None


def _leave(_signal: int, _frame: FrameType | None) -> None:
    raise SystemExit(0)
