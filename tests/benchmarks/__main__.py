"""Measure everything: `python -m tests.benchmarks`, in less than a quarter of an hour."""

import argparse
import os
import platform
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path

from tests.benchmarks.aims import LARGE, SMALL, Figures
from tests.benchmarks.page_rates import memory, rates, while_papers
from tests.benchmarks.paper_times import paper_times, pool_times
from tests.benchmarks.served import Book, a_book
from tests.benchmarks.start_times import (
    as_installed,
    bare_start_s,
    demo_start_s,
    figures_us,
    reckoning_ms,
    serve_start_s,
)
from tests.benchmarks.table import lines
from tests.postgresql.server import a_server

PARTS = ("start", "papers", "memory", "pages", "live")
BOOKS = ("sqlite", "postgresql")
FULL = 1_000_000


def main(argv: Sequence[str] | None = None) -> None:
    """Measure app and floor in one run on one machine, warm, and print one table that ends with the aims."""
    asked = _parser().parse_args(argv)
    orders = [*asked.orders, *([FULL] if asked.full else [])]
    started = time.monotonic()
    _say(
        f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}, {os.cpu_count()} processors, "
        f"load {os.getloadavg()[0]:.1f} before"
    )
    found = Figures()
    with ExitStack() as tidy:
        folder = Path(tidy.enter_context(tempfile.TemporaryDirectory(prefix="shankwright-")))
        first = a_book(folder / "first", min(orders))
        if "start" in asked.only:
            _start(found, first, asked.rounds)
        if "papers" in asked.only:
            _note("papers")
            found.papers = paper_times(first, rounds=4 * asked.rounds)
            found.pool = pool_times(rounds=asked.rounds)
            found.while_papers = while_papers(first, seconds=2 * asked.seconds)
        if "memory" in asked.only:
            _note("memory")
            found.memory = memory(first)
        if {"pages", "live"} & set(asked.only):
            for book in _books(tidy, folder, first, orders, asked.books):
                _note(f"{book.name}, {book.orders:,} orders")
                found.rates += rates(
                    book,
                    [one for one in book.asked if ("live" if one.is_live else "pages") in asked.only],
                    processes=asked.processes,
                    connections=asked.connections,
                    seconds=asked.seconds,
                )
    for line in lines(found):
        _say(line)
    _say(f"{time.monotonic() - started:.0f} s, load {os.getloadavg()[0]:.1f} after")


def _start(found: Figures, book: Book, rounds: int) -> None:
    _note("start")
    found.reckoning_ms = reckoning_ms(book)
    found.figures = figures_us()
    with as_installed():
        found.bare_start_s = bare_start_s(rounds=rounds)
        found.serve_s = serve_start_s(book, rounds=rounds)
        found.demo_s = demo_start_s(rounds=rounds)


def _books(
    tidy: ExitStack, folder: Path, first: Book, orders: Sequence[int], kinds: Sequence[str]
) -> Iterator[Book]:
    if "sqlite" in kinds:
        for count in orders:
            yield first if count == first.orders else a_book(folder / f"{count}", count)
    if "postgresql" in kinds:
        server = tidy.enter_context(a_server())
        for count in orders:
            yield a_book(folder / f"server-{count}", count, server.make(f"of_{count}"))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=main.__doc__)
    parser.add_argument("--only", type=_choice(PARTS), default=PARTS, help="parts, such as pages,papers")
    parser.add_argument("--books", type=_choice(BOOKS), default=BOOKS, help="sqlite, postgresql")
    parser.add_argument("--orders", type=_counts, default=(SMALL, LARGE), help="sizes of the order book")
    parser.add_argument("--processes", type=_counts, default=(1, 2), help="that serve one book")
    parser.add_argument("--connections", type=_counts, default=(1, 8, 32), help="open at once")
    parser.add_argument("--seconds", type=float, default=2, help="of each load, besides a warm second")
    parser.add_argument("--rounds", type=int, default=5, help="of each start and each paper")
    parser.add_argument("--full", action="store_true", help="measure a book of 1,000,000 orders as well")
    return parser


def _choice(names: Sequence[str]) -> Callable[[str], tuple[str, ...]]:
    def read(typed: str) -> tuple[str, ...]:
        chosen = tuple(typed.split(","))
        if unknown := set(chosen) - set(names):
            raise argparse.ArgumentTypeError(f"{', '.join(sorted(unknown))}: there are {', '.join(names)}")
        return chosen

    return read


def _counts(typed: str) -> tuple[int, ...]:
    return tuple(sorted(int(count) for count in typed.split(",")))


def _note(words: str) -> None:
    sys.stderr.write(f"… {words}\n")


def _say(line: str) -> None:
    sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
