"""Disks that can be filled up and emptied, with an app that keeps its book on one."""

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Any

import httpx
from sqlalchemy import Engine, event
from sqlmodel import select

from studio import clock
from studio.book.engine import open_book, session
from studio.book.sign_in import SignInRow
from studio.book.tables import metadata
from studio.book.transaction import transaction
from studio.craft.roles import Role
from tests.asgi import InProcess
from tests.builders import a_ring, an_order
from tests.faults.kills import half_saved
from tests.quoting import a_quote, a_yes, put_figures
from tests.running import a_served_book
from tests.web.house import BASE_URL, House, file_url, make_book

OWN_MOUNTS = ("unshare", "--map-root-user", "--mount")
"""A process with mounts of its own, which end with it: nothing is left behind, and nobody else sees them."""
_ON_A_SMALL_DISK = 'mount -t tmpfs -o size=3m tmpfs "$0" && cp -a "$1"/. "$0" && shift && exec "$@"'


@dataclass(frozen=True, slots=True)
class Disk:
    """A book on a disk that fills up, and a program and a browser of the owner's.

    `browser` sends its cookie as the studio's own pages do. `quote` was issued, with its paper, while there
    was room. `half_saved` looks the book through, given a folder to copy its files to.
    """

    quote: str
    program: httpx.Client
    browser: httpx.Client
    fill: Callable[[], None]
    empty: Callable[[], None]
    half_saved: Callable[[Path], tuple[str, ...]]


@cache
def may_mount() -> bool:
    """Whether this machine lets a test have a small disk of its own."""
    if shutil.which("unshare") is None:
        return False
    asked = [*OWN_MOUNTS, "mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", "/mnt"]
    return subprocess.run(asked, capture_output=True, check=False).returncode == 0


@contextmanager
def a_small_disk(folder: Path) -> Iterator[Disk]:
    """A real disk of 3 MB, in memory, that holds a served book and nothing else."""
    made, home = folder / "made", folder / "small"
    made.mkdir()
    home.mkdir()
    tokens, keys = make_book(made)
    engine = open_book(file_url(made))
    quote = _prepared(engine)
    engine.dispose()
    before = [*OWN_MOUNTS, "sh", "-c", _ON_A_SMALL_DISK, str(home), str(made)]
    with a_served_book(home, before=before) as served:
        seen = Path(f"/proc/{served.process.pid}/root{home}")
        filler = seen / "filler"

        def fill() -> None:
            with filler.open("ab", buffering=0) as file:
                size = 65_536
                while size:
                    try:
                        os.write(file.fileno(), b"\0" * size)
                    except OSError:
                        size //= 2

        with (
            httpx.Client(
                base_url=served.base_url, headers=_as_program(tokens[Role.OWNER]), timeout=60
            ) as program,
            httpx.Client(
                base_url=served.base_url, headers=_as_browser(keys[Role.OWNER]), timeout=60
            ) as browser,
        ):
            yield Disk(quote, program, browser, fill, filler.unlink, lambda to: _copy_looked_at(seen, to))


@contextmanager
def a_limited_book(house: House) -> Iterator[Disk]:
    """A book that may not grow: SQLite's own limit of pages answers as a full disk does."""
    quote = _prepared(house.engine)
    with house.engine.connect() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar_one()
    most = 2**31

    def limit(connection: Any, *_: object) -> None:
        connection.execute(f"PRAGMA max_page_count = {most}")

    event.listen(house.engine.pool, "checkout", limit)

    def fill() -> None:
        nonlocal most
        most = pages

    def empty() -> None:
        nonlocal most
        most = 2**31

    with _in_process(house) as (program, browser):
        yield Disk(quote, program, browser, fill, empty, lambda to: _copy_looked_at(house.home, to))


@contextmanager
def a_full_server(house: House) -> Iterator[Disk]:
    """A book in a server that has no room: each table refuses what is new or changed by the code for it."""
    quote = _prepared(house.engine)

    def run(*statements: str) -> None:
        with house.engine.begin() as keeper:
            for statement in statements:
                keeper.exec_driver_sql(statement)

    def fill() -> None:
        run(
            _NO_ROOM,
            *(
                f"CREATE TRIGGER no_room BEFORE INSERT OR UPDATE ON {table} EXECUTE FUNCTION no_room()"
                for table in metadata().tables
            ),
        )

    def empty() -> None:
        run("DROP FUNCTION IF EXISTS no_room CASCADE")

    try:
        with _in_process(house) as (program, browser):
            yield Disk(quote, program, browser, fill, empty, lambda _: half_saved(house.url))
    finally:
        empty()


_NO_ROOM = """
CREATE FUNCTION no_room() RETURNS trigger LANGUAGE plpgsql AS $no_room$ BEGIN
    RAISE EXCEPTION 'could not extend file: No space left on device' USING ERRCODE = 'disk_full';
END $no_room$
"""


@contextmanager
def _in_process(house: House) -> Iterator[tuple[httpx.Client, httpx.Client]]:
    """A program and a browser of the owner's, at the house's own app."""
    with (
        InProcess(house.app) as transport,
        httpx.Client(
            transport=transport, base_url=BASE_URL, headers=_as_program(house.tokens[Role.OWNER])
        ) as program,
        httpx.Client(
            transport=transport, base_url=BASE_URL, headers=_as_browser(house.keys[Role.OWNER])
        ) as browser,
    ):
        yield program, browser


def _prepared(engine: Engine) -> str:
    """Issue a quote that is said yes to, and give its number; then let everybody have been away for an hour.

    The next page they open would note that they are back.
    """
    now = clock.now()
    with session(engine) as book:
        put_figures(book, on=now.date(), now=now)
        quote = a_quote(book, an_order(book, rings=[a_ring(), a_ring()], now=now), now=now)
        a_yes(book, quote, now=now)
        with transaction(book):
            for row in book.exec(select(SignInRow)):
                row.seen_at -= timedelta(hours=1)
                book.add(row)
    return quote.number


def _as_program(token: str) -> dict[str, str]:
    return {"authorization": f"Bearer {token}"}


def _as_browser(key: str) -> dict[str, str]:
    return {"cookie": f"shankwright={key}", "sec-fetch-site": "same-origin"}


def _copy_looked_at(home: Path, to: Path) -> tuple[str, ...]:
    for file in home.glob("book.db*"):
        (to / file.name).write_bytes(file.read_bytes())
    return half_saved(file_url(to))
