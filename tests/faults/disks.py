"""Disks that can be filled up and emptied, with an app that keeps its book on one."""

import os
import shutil
import sqlite3
import subprocess
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import httpx
from sqlalchemy import event

from studio.craft.roles import Role
from tests.asgi import InProcess
from tests.running import a_served_book
from tests.web.house import BASE_URL, House, make_book

OWN_MOUNTS = ("unshare", "--map-root-user", "--mount")
"""A process with mounts of its own, which end with it: nothing is left behind, and nobody else sees them."""
_ON_A_SMALL_DISK = 'mount -t tmpfs -o size=3m tmpfs "$0" && cp -a "$1"/. "$0" && shift && exec "$@"'


@dataclass(frozen=True, slots=True)
class Disk:
    """A book on a disk that fills up, a program and a browser of the owner's, and a copy of the book's files.

    `browser` sends its cookie as the studio's own pages do.
    """

    program: httpx.Client
    browser: httpx.Client
    fill: Callable[[], None]
    empty: Callable[[], None]
    copy_to: Callable[[Path], None]


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
    seen_an_hour_ago(made)
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
            yield Disk(program, browser, fill, filler.unlink, lambda to: _copied(seen, to))


@contextmanager
def a_limited_book(house: House) -> Iterator[Disk]:
    """A book that may not grow: SQLite's own limit of pages answers as a full disk does."""
    seen_an_hour_ago(house.home)
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

    with (
        InProcess(house.app) as transport,
        httpx.Client(
            transport=transport, base_url=BASE_URL, headers=_as_program(house.tokens[Role.OWNER])
        ) as program,
        httpx.Client(
            transport=transport, base_url=BASE_URL, headers=_as_browser(house.keys[Role.OWNER])
        ) as browser,
    ):
        yield Disk(program, browser, fill, empty, lambda to: _copied(house.home, to))


def seen_an_hour_ago(home: Path) -> None:
    """Let everybody have been away from their screen for an hour; the next page they open would note it."""
    with closing(sqlite3.connect(home / "book.db")) as book:
        book.execute("UPDATE sign_ins SET seen_at = datetime(seen_at, '-1 hour') || '.000000'")
        book.commit()


def _as_program(token: str) -> dict[str, str]:
    return {"authorization": f"Bearer {token}"}


def _as_browser(key: str) -> dict[str, str]:
    return {"cookie": f"shankwright={key}", "sec-fetch-site": "same-origin"}


def _copied(home: Path, to: Path) -> None:
    for file in home.glob("book.db*"):
        (to / file.name).write_bytes(file.read_bytes())
