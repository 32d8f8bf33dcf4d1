"""Parts of papers that go wrong, or tell of the process that prints them; a worker finds them by name."""

import os
import resource
import signal
import time
from functools import partial
from pathlib import Path

from studio.papers.bench_sheet import EmptyWeek
from studio.papers.paper import Paper

HOUR_S = 3600.0


def telling() -> EmptyWeek:
    """A part that says which process printed it, how far it gives way, what it may take and what it knows."""
    settings = sum(name.startswith("STUDIO_") for name in os.environ)
    memory, _ = resource.getrlimit(resource.RLIMIT_AS)
    return EmptyWeek(
        week=f"process {os.getpid()} nice {os.nice(0)} memory {memory} settings {settings}", printed=""
    )


def killed() -> EmptyWeek:
    """A part in whose midst the process is killed, as when the machine runs out of memory."""
    signal.raise_signal(signal.SIGKILL)
    raise AssertionError("no process lives after this")


def endless(note: str = "") -> EmptyWeek:
    """A part that is not done within an hour; it writes into the file `note` which process is at it."""
    if note:
        Path(note).with_suffix(".new").write_text(str(os.getpid()), "utf-8")
        Path(note).with_suffix(".new").rename(note)
    time.sleep(HOUR_S)
    raise AssertionError("nobody waits an hour")


def huge() -> EmptyWeek:
    """A part that takes two thousand million bytes, which no worker may."""
    return EmptyWeek(week=str(len(bytes(2_000_000_000))), printed="")


def faulty(name: str) -> EmptyWeek:
    """A part that fails, with a name in what it fails with."""
    raise LookupError(name)


def week(words: str) -> EmptyWeek:
    """A part that is as it should be."""
    return EmptyWeek(week=words, printed="today")


def a_paper(part: object = None, *, title: str = "A paper") -> Paper:
    """A paper of one part, by default a plain week."""
    return Paper("empty_week", (part if callable(part) else partial(week, "a week"),), title)


def weeks(count: int, *, title: str = "Weeks") -> Paper:
    """A paper of many short parts."""
    return Paper("empty_week", tuple(partial(week, f"week {number}") for number in range(count)), title)
