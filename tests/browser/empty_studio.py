"""A founded studio without an order, served from this process: its first day, and its ways in."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import uvicorn

from studio.book.engine import open_book, session
from studio.book.links import make_link
from studio.book.people import PROGRAM
from studio.clock import now
from studio.serving import listening
from studio.settings import Settings
from studio.web.app import create_app


@dataclass(frozen=True, slots=True)
class EmptyStudio:
    """Where it answers, and the link by which its owner sets a passphrase."""

    base_url: str
    enter_url: str


@contextmanager
def an_empty_studio(book: Path) -> Iterator[EmptyStudio]:
    """Serve `book` on a free port for as long as it is needed."""
    engine = open_book(f"sqlite:///{book}")
    with session(engine) as opened:
        key = make_link(opened, user_name="Maren", actor=PROGRAM, now=now())
    app = create_app(Settings(home=book.parent), engine)
    with listening("127.0.0.1", 0) as bound:
        bound.listen()
        server = uvicorn.Server(uvicorn.Config(app, log_level="warning", access_log=False))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [bound]})
        thread.start()
        base_url = f"http://127.0.0.1:{bound.getsockname()[1]}"
        yield EmptyStudio(base_url, f"{base_url}/enter/{key}")
        server.should_exit = True
        thread.join()
    engine.dispose()
