"""What is aimed at, and whether the figures reach it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from tests.benchmarks.page_rates import Memory, Rate, WhilePapers
from tests.benchmarks.paper_times import PaperTime, PoolTimes
from tests.benchmarks.start_times import FigureTimes

SMALL, LARGE = 1_000, 100_000
FLAT = 1.05
"""Memory that grows by less than a twentieth from the first count to the last is called flat."""


@dataclass(slots=True)
class Figures:
    """All that was measured in one run; what was not asked for stays empty."""

    rates: list[Rate] = field(default_factory=list)
    papers: list[PaperTime] = field(default_factory=list)
    pool: PoolTimes | None = None
    while_papers: WhilePapers | None = None
    memory: list[Memory] = field(default_factory=list)
    reckoning_ms: float | None = None
    figures: FigureTimes | None = None
    bare_start_s: float | None = None
    demo_s: float | None = None
    serve_s: float | None = None


@dataclass(frozen=True, slots=True)
class Aim:
    """One aim, and the figure for it; `is_reached` is None where this run does not tell."""

    says: str
    figure: str
    is_reached: bool | None


def aims(found: Figures) -> Iterator[Aim]:
    """Every aim in turn, by the figures of SQLite and one process."""
    yield from _of_the_list(found.rates)
    for name in ("counter figures", "API reckoning"):
        live = [rate for rate in _one(found.rates, name) if rate.orders == _largest(found.rates)]
        least = min((rate.share for rate in live), default=None)
        yield _aim(f"{name}: at least 0.6 of the floor's rate", least, "least {:.2f}", lambda it: it >= 0.6)
    searches = [rate.app.p99_ms for rate in _one(found.rates, "search", 1) if rate.orders == LARGE]
    yield _aim("search at 100,000 orders: p99 below 50 ms", _first(searches), "{:.1f} ms", lambda it: it < 50)
    quote = _first([paper.app_ms / paper.bare_ms for paper in found.papers if paper.name == "quote PDF"])
    yield _aim("quote PDF: at most 1.1 of bare WeasyPrint", quote, "{:.2f}", lambda it: it <= 1.1)
    pool = None if found.pool is None else found.pool.two_s / found.pool.one_s
    yield _aim("40 bench sheets by two workers: below 0.6 of one", pool, "{:.2f}", lambda it: it < 0.6)
    waits = None if found.while_papers is None else found.while_papers
    ratio = None if waits is None else waits.busy.p99_ms / waits.idle.p99_ms
    yield _aim("p99 of a page while papers are made: below 1.5 of idle", ratio, "{:.2f}", lambda it: it < 1.5)
    growth = max((memory.growth for memory in found.memory), default=None)
    yield _aim(
        "memory over 10,000 requests and 500 papers: flat", growth, "grown to {:.2f}", lambda it: it < FLAT
    )
    yield _aim("a whole reckoning: below 1 ms", found.reckoning_ms, "{:.2f} ms", lambda it: it < 1)
    yield _aim("demo answers within 5 s", found.demo_s, "{:.1f} s", lambda it: it <= 5)
    yield _aim("serve answers within 2 s", found.serve_s, "{:.1f} s", lambda it: it <= 2)


def _of_the_list(rates: Sequence[Rate]) -> Iterator[Aim]:
    large = [rate for rate in _one(rates, "list page", 8) if rate.orders == LARGE]
    small = [rate for rate in _one(rates, "list page", 8) if rate.orders == SMALL]
    yield _aim(
        "list page at 100,000 orders: at least 0.15 of the floor's rate",
        _first([rate.share for rate in large]),
        "{:.2f}",
        lambda it: it >= 0.15,
    )
    yield _aim(
        "list page at 100,000 orders, 8 connections: p99 below 2 p50",
        _first([rate.app.p99_ms / rate.app.p50_ms for rate in large]),
        "{:.2f}",
        lambda it: it < 2,
    )
    both = [big.app.p50_ms / little.app.p50_ms for big, little in zip(large, small, strict=False)]
    yield _aim(
        "list page at 100,000 orders: p50 within 1.1 of that at 1,000",
        _first(both),
        "{:.2f}",
        lambda it: it <= 1.1,
    )


def _one(rates: Sequence[Rate], name: str, connections: int | None = None) -> list[Rate]:
    """The rows of this name on SQLite, by one process."""
    return [
        rate
        for rate in rates
        if (rate.asked.name, rate.book, rate.processes) == (name, "SQLite", 1)
        and connections in {None, rate.connections}
    ]


def _largest(rates: Sequence[Rate]) -> int:
    return max((rate.orders for rate in rates), default=0)


def _first(found: Sequence[float]) -> float | None:
    return found[0] if found else None


def _aim(says: str, figure: float | None, form: str, is_enough: Callable[[float], bool]) -> Aim:
    if figure is None:
        return Aim(says, "not measured", None)
    return Aim(says, form.format(figure), is_enough(figure))
