"""Books to measure on, and the servers of app and floor over them."""

import os
import pickle
import selectors
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

import httpx

from studio import clock
from studio.book.demo import OWNER
from studio.book.engine import open_book, session
from studio.book.order_reads import orders_page
from studio.book.passphrases import set_passphrase
from studio.book.people import user_named
from studio.book.sign_in import open_sign_in
from studio.craft.orders import State
from tests.benchmarks.asked import Asked, asked_of
from tests.benchmarks.books import make_book_of
from tests.running import ROOT, a_served_book, environment, free_port

_START_S = 120.0


@dataclass(frozen=True, slots=True)
class Book:
    """A book of `orders` orders with its owner signed in by `key`. `url` is None for a file in `home`."""

    name: str
    orders: int
    home: Path
    url: str | None
    key: str
    asked: tuple[Asked, ...]
    agreed: tuple[str, ...]

    @property
    def address(self) -> str:
        """The book's address for `open_book`."""
        return self.url or f"sqlite:///{self.home / 'book.db'}"


def a_book(folder: Path, orders: int, url: str | None = None) -> Book:
    """Make a book of this size in `folder`, or in the empty database at `url`, and sign its owner in."""
    folder.mkdir(parents=True, exist_ok=True)
    engine = open_book(make_book_of(url or folder / "book.db", orders))
    with session(engine) as book:
        owner = user_named(book, OWNER)
        set_passphrase(
            book, user_id=owner.id, passphrase="four rings in a drawer", actor=owner.actor, now=clock.now()
        )
        key = open_sign_in(book, user_id=owner.id, now=clock.now()).key
        lines = orders_page(book, limit=200, state=State.AGREED).items
    engine.dispose()
    name = next(line.customer_name for line in lines if line.customer_name.isascii())
    agreed = tuple(line.number for line in lines)
    asked = asked_of(agreed[0], name.split()[-1])
    return Book("SQLite" if url is None else "PostgreSQL", orders, folder, url, key, asked, agreed)


@contextmanager
def app_servers(book: Book, count: int = 1) -> Iterator[dict[int, int]]:
    """The app served by so many processes; their ports, each with its process. Their printers are ready."""
    with ExitStack() as running:
        served = [running.enter_context(a_served_book(book.home, book.url)) for _ in range(count)]
        for one in served:
            with (
                httpx.Client(base_url=one.base_url, cookies={"shankwright": book.key}, timeout=60) as client,
                ThreadPoolExecutor(2) as both,  # two papers at once find both printers awake
            ):
                list(both.map(client.get, ["/week/papers.pdf?from=2001-01-01"] * 2))
        yield {int(one.base_url.rpartition(":")[2]): one.process.pid for one in served}


@contextmanager
def floor_servers(book: Book, count: int = 1) -> Iterator[dict[int, int]]:
    """The floor served by so many processes, as `app_servers`."""
    with tempfile.TemporaryDirectory() as folder, ExitStack() as running:
        asked = Path(folder) / "asked"
        asked.write_bytes(pickle.dumps(list(book.asked)))
        ports = {}
        for _ in range(count):
            port = free_port()
            ports[port] = running.enter_context(_floor_server(book, port, asked))
        yield ports


@contextmanager
def _floor_server(book: Book, port: int, asked: Path) -> Iterator[int]:
    with subprocess.Popen(
        [
            sys.executable, "-m", "tests.benchmarks.floors", "--home", str(book.home), "--port", str(port),
            "--key", book.key, "--asked", str(asked),
        ],
        stdout=subprocess.PIPE, text=True, env=environment(book_url=book.url), cwd=ROOT,
    ) as process:  # fmt: skip
        try:
            assert process.stdout is not None
            waiting = selectors.DefaultSelector()
            waiting.register(process.stdout, selectors.EVENT_READ)
            said = process.stdout.readline() if waiting.select(_START_S) else ""
            assert said.startswith("Listening on"), said
            yield process.pid
        finally:
            process.terminate()
            process.wait(timeout=60)


def rss_mb(pids: Sequence[int]) -> float:
    """The memory these processes hold together, in MB."""
    pages = sum(int(Path(f"/proc/{pid}/statm").read_text("utf-8").split()[1]) for pid in pids)
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6
