"""A demo studio running as a process of its own, as a newcomer starts it."""

import os
import re
import selectors
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import httpx

ROOT = Path(__file__).resolve().parent.parent
"""The checkout these tests belong to: what a child runs unless it is told of another place."""
STUDIO = [sys.executable, "-m", "studio"]


@dataclass(frozen=True, slots=True)
class Running:
    """A served book: its address, the folder that holds it, and the link that signs the owner in."""

    base_url: str
    home: Path
    enter_url: str
    python_path: str
    seconds_to_answer: float

    def token(self, role: str) -> str:
        """A fresh bearer token for `role`, made by the command line while the server runs."""
        done = subprocess.run(
            [*STUDIO, "token", f"test {role}", "--role", role, "--home", str(self.home)],
            check=True, capture_output=True, text=True, env=environment(self.python_path), cwd=self.home,
        )  # fmt: skip
        return done.stdout.strip().splitlines()[-1]


def environment(python_path: str = str(ROOT), book_url: str | None = None) -> dict[str, str]:
    """The environment of a child: of the studio's own only where its book lies, the code from `python_path`.

    It comes before what is installed, so that a child runs the same code as the test that started it.
    """
    kept = {name: value for name, value in os.environ.items() if not name.startswith("STUDIO_")}
    given = {} if book_url is None else {"STUDIO_DATABASE_URL": book_url}
    return {**kept, **given, "PYTHONPATH": python_path}


def free_port() -> int:
    """A port nobody listens on right now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


@contextmanager
def a_running_demo(home: Path, python_path: str = str(ROOT), *, seconds: float = 30) -> Iterator[Running]:
    """Start `demo` in `home`, wait for its link and its first answer, and stop it afterwards."""
    port = free_port()
    started = time.monotonic()
    with subprocess.Popen(
        [*STUDIO, "demo", "--port", str(port), "--home", str(home)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env=environment(python_path), cwd=home.parent,
    ) as process:  # fmt: skip
        try:
            enter_url = _opening_line(process, seconds)
            base_url = f"http://127.0.0.1:{port}"
            while httpx.get(f"{base_url}/health").status_code != httpx.codes.OK:
                time.sleep(0.05)
            yield Running(base_url, home, enter_url, python_path, time.monotonic() - started)
        finally:
            process.terminate()
            process.communicate(timeout=15)


@dataclass(frozen=True, slots=True)
class Served:
    """A studio's own book, served by a process that a test may end in any way."""

    base_url: str
    process: subprocess.Popen[str]


@contextmanager
def a_served_book(
    home: Path,
    book_url: str | None = None,
    *,
    before: Sequence[str] = (),
    says: str = "Listening on",
    seconds: float = 60,
) -> Iterator[Served]:
    """Run `serve` on a book, wait until it listens, and stop it afterwards if it still runs.

    The book lies in `home`, or where `book_url` says. `says` is how the server begins to speak.
    `before` is a command that becomes the server at its end, as `unshare` does.
    """
    port = free_port()
    with subprocess.Popen(
        [*before, *STUDIO, "serve", "--port", str(port), "--home", str(home)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env=environment(book_url=book_url), cwd=home.parent,
    ) as process:  # fmt: skip
        try:
            said = _first_line(process, seconds)
            if not said.startswith(says):
                process.kill()
                raise AssertionError(
                    f"the server said {said!r} instead of listening: {process.communicate()}"
                )
            yield Served(f"http://127.0.0.1:{port}", process)
        finally:
            process.terminate()
            process.communicate(timeout=60)


def _first_line(process: subprocess.Popen[str], seconds: float) -> str:
    """What the process says first, '' if it says nothing in this time."""
    assert process.stdout is not None
    waiting = selectors.DefaultSelector()
    waiting.register(process.stdout, selectors.EVENT_READ)
    return process.stdout.readline().rstrip() if waiting.select(seconds) else ""


def _opening_line(process: subprocess.Popen[str], seconds: float) -> str:
    """The one-time address from the line `Open http://…`; fails with what the process said."""
    if found := re.match(r"Open (http://127\.0\.0\.1:\d+/enter/\S+)", _first_line(process, seconds)):
        return found.group(1)
    process.kill()
    out, err = process.communicate()
    raise AssertionError(f"no opening line within {seconds} s:\n{out}\n{err}")
