"""How long the program takes to answer after it is started, and a reckoning in its process."""

import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from statistics import median

from studio.book.engine import open_book, session
from studio.book.rates import metal_prices, rates_on
from studio.craft.alloys import ALLOYS
from studio.craft.drawing import Cut, counter_drawing
from studio.craft.pricing import Job, price
from studio.craft.reckonings import reckon
from studio.craft.units import to_milligrams
from tests.benchmarks.bare_formulas import bare, given
from tests.benchmarks.served import Book
from tests.papers.sheets import SHEETS
from tests.running import a_running_demo, a_served_book

RECKONINGS = 400


@dataclass(frozen=True, slots=True)
class FigureTimes:
    """Median microseconds of a ring's figures, ours and the bare formulas'."""

    ours_us: float
    bare_us: float


@contextmanager
def as_installed() -> Iterator[None]:
    """Let children find their modules compiled, as pip leaves them; in a folder that goes away."""
    before = {name: os.environ.pop(name, None) for name in ("PYTHONDONTWRITEBYTECODE", "PYTHONPYCACHEPREFIX")}
    with tempfile.TemporaryDirectory() as folder:
        os.environ["PYTHONPYCACHEPREFIX"] = folder
        try:
            yield
        finally:
            del os.environ["PYTHONPYCACHEPREFIX"]
            os.environ.update({name: value for name, value in before.items() if value is not None})


def bare_start_s(*, rounds: int) -> float:
    """The floor of every start: Python, and the libraries of server, web and book without the app."""
    libraries = "import fastapi, sqlmodel, uvicorn, uvloop, httptools, jinja2, pydantic_settings"
    return median(_run_s([sys.executable, "-c", libraries]) for _ in range(rounds + 1))


def demo_start_s(*, rounds: int) -> float:
    """From the command to the first answer of a fresh demo, the median; the first start is not counted."""
    times = []
    for _ in range(rounds + 1):
        with tempfile.TemporaryDirectory() as folder, a_running_demo(Path(folder) / "home") as running:
            times.append(running.seconds_to_answer)
    return median(times[1:])


def serve_start_s(book: Book, *, rounds: int) -> float:
    """From the command until a book that is there is served, the median; the first start is not counted."""
    times = []
    for _ in range(rounds + 1):
        started = time.perf_counter()
        with a_served_book(book.home, book.url):
            times.append(time.perf_counter() - started)
    return median(times[1:])


def reckoning_ms(book: Book) -> float:
    """One whole reckoning in ms, the median over rings of every kind.

    Sizes, blank, weights and working, the drawing as the counter shows it, and the price by the book's rates.
    """
    engine = open_book(book.address)
    with session(engine) as opened:
        rates, prices = rates_on(opened, date.max), metal_prices(opened, date.max)
    engine.dispose()
    assert rates is not None
    rings = [ring.reckoning for ring in SHEETS.values()]
    times = []
    for place in range(RECKONINGS):
        finger, design = rings[place % len(rings)].finger, rings[place % len(rings)].design
        started = time.perf_counter()
        figures = reckon(finger, design)
        counter_drawing(figures, Cut.WIDE)
        price([Job("A ring", ALLOYS[design.alloy], to_milligrams(figures.issue_g), 90)], prices, rates)
        times.append(time.perf_counter() - started)
    return median(times[len(rings) :]) * 1000


def figures_us() -> FigureTimes:
    """The figures of a ring with their words and working, beside the same formulas in bare floats."""
    rings = [ring.reckoning for ring in SHEETS.values()]
    taken = [given(ring) for ring in rings]
    ours, floor = [], []
    for place in range(RECKONINGS):
        ring, told = rings[place % len(rings)], taken[place % len(rings)]
        started = time.perf_counter()
        reckon(ring.finger, ring.design)
        between = time.perf_counter()
        bare(told)
        ours.append(between - started)
        floor.append(time.perf_counter() - between)
    return FigureTimes(median(ours[len(rings) :]) * 1e6, median(floor[len(rings) :]) * 1e6)


def _run_s(command: list[str]) -> float:
    started = time.perf_counter()
    subprocess.run(command, check=True)
    return time.perf_counter() - started
