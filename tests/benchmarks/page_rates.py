"""How fast pages and live figures come, the app beside its floor; memory; and pages while papers are made."""

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import httpx

from tests.benchmarks.asked import Asked
from tests.benchmarks.load import Load, loaded
from tests.benchmarks.served import Book, app_servers, floor_servers, rss_mb
from tests.papers.processes import workers_of

REQUESTS_AT = (1_000, 5_000, 10_000)
PAPERS_AT = (50, 250, 500)


@dataclass(frozen=True, slots=True)
class Rate:
    """One row of the table."""

    asked: Asked
    book: str
    orders: int
    processes: int
    connections: int
    app: Load
    floor: Load

    @property
    def share(self) -> float:
        """The app's rate as a share of its floor's."""
        return self.app.rate / self.floor.rate


@dataclass(frozen=True, slots=True)
class Memory:
    """What processes hold after so many requests or papers, in MB."""

    name: str
    at: tuple[int, ...]
    held_mb: tuple[float, ...]

    @property
    def growth(self) -> float:
        """The last over the first: 1.00 is flat."""
        return self.held_mb[-1] / self.held_mb[0]


@dataclass(frozen=True, slots=True)
class WhilePapers:
    """The list page for one reader, idle and while papers are made without a pause."""

    idle: Load
    busy: Load
    papers: int


def rates(
    book: Book,
    requests: Sequence[Asked],
    *,
    processes: Sequence[int],
    connections: Sequence[int],
    seconds: float,
) -> Iterator[Rate]:
    """Each request by each number of processes, over each number of connections that gives every one some."""
    for count in processes:
        with app_servers(book, count) as app, floor_servers(book, count) as floor:
            for asked, open_at_once in product(requests, connections):
                if open_at_once < count:
                    continue
                ours, theirs = (
                    loaded(list(ports), asked, book.key, connections=open_at_once, seconds=seconds)
                    for ports in (app, floor)
                )
                yield Rate(asked, book.name, book.orders, count, open_at_once, ours, theirs)


def while_papers(book: Book, *, seconds: float) -> WhilePapers:
    """The list page for one reader, idle, and while bench sheets are made one after the other."""
    with app_servers(book) as app:
        ports, asked = list(app), book.asked[0]
        idle = loaded(ports, asked, book.key, connections=1, seconds=seconds)
        with httpx.Client(
            base_url=f"http://127.0.0.1:{ports[0]}", cookies={"shankwright": book.key}, timeout=60
        ) as client:
            stop, made = threading.Event(), [0]

            def make() -> None:
                while not stop.is_set():
                    client.get(_sheet(book, made[0])).raise_for_status()
                    made[0] += 1

            maker = threading.Thread(target=make)
            maker.start()
            try:
                busy = loaded(ports, asked, book.key, connections=1, seconds=seconds)
            finally:
                stop.set()
                maker.join()
    return WhilePapers(idle, busy, made[0])


def memory(book: Book) -> list[Memory]:
    """The server over 10,000 requests of every kind, then server and printers over 500 papers."""
    with app_servers(book) as app:
        (port, server), *_ = app.items()

        def asks() -> int:
            burst = (loaded([port], one, book.key, connections=8, seconds=1) for one in book.asked)
            return sum(load.requests for load in burst)

        served = _held(REQUESTS_AT, asks, lambda: rss_mb([server]))
        made = [0]
        with httpx.Client(
            base_url=f"http://127.0.0.1:{port}", cookies={"shankwright": book.key}, timeout=60
        ) as client:

            def prints() -> int:
                client.get(_sheet(book, made[0])).raise_for_status()
                made[0] += 1
                return 1

            printed = _held(PAPERS_AT, prints, lambda: rss_mb([server, *workers_of(server)]))
    return [
        Memory("server, by requests", REQUESTS_AT, served),
        Memory("server and printers, by papers", PAPERS_AT, printed),
    ]


def _held(at: tuple[int, ...], does: Callable[[], int], held_mb: Callable[[], float]) -> tuple[float, ...]:
    """What is held each time as much as `at` says has been done."""
    done, found = 0, []
    for wanted in at:
        while done < wanted:
            done += does()
        found.append(held_mb())
    return tuple(found)


def _sheet(book: Book, place: int) -> str:
    return f"/orders/{book.agreed[place % len(book.agreed)]}/bench-sheet.pdf"
