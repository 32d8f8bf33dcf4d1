"""The table as printed, in Markdown: each figure beside its floor, and at the end the aims."""

from collections.abc import Iterator

from tests.benchmarks.aims import Figures, aims
from tests.benchmarks.page_rates import Rate

_YES = {True: "yes", False: "no", None: "–"}


def lines(found: Figures) -> Iterator[str]:
    """The whole table, line by line."""
    if found.rates:
        yield from _head(
            "what", "book", "orders", "processes", "connections", "p50 ms", "p99 ms", "a second",
            "floor p50", "floor p99", "floor a second", "share",
        )  # fmt: skip
        yield from (_rate(rate) for rate in found.rates)
        yield ""
    if others := list(_others(found)):
        yield from _head("what", "figure", "beside it")
        yield from others
        yield ""
    yield from _head("aim", "figure", "reached")
    for aim in aims(found):
        yield _row(aim.says, aim.figure, _YES[aim.is_reached])


def _others(found: Figures) -> Iterator[str]:
    if found.reckoning_ms is not None:
        yield _row("a whole reckoning, in process", f"{found.reckoning_ms:.2f} ms", "")
    if found.figures is not None:
        beside = f"{found.figures.bare_us:.1f} µs, the same formulas in bare floats"
        yield _row("its figures, with their working", f"{found.figures.ours_us:.0f} µs", beside)
    bare = "" if found.bare_start_s is None else f"{found.bare_start_s:.2f} s, the libraries alone"
    for name, start_s in (("demo", found.demo_s), ("serve", found.serve_s)):
        if start_s is not None:
            yield _row(f"{name}, from the command to its first answer", f"{start_s:.2f} s", bare)
    for paper in found.papers:
        yield _row(paper.name, f"{paper.app_ms:.0f} ms", f"{paper.bare_ms:.0f} ms, bare WeasyPrint")
    if found.pool is not None:
        yield _row(
            "40 bench sheets, one worker",
            f"{found.pool.one_s:.1f} s",
            f"{found.pool.bare_s:.1f} s, bare WeasyPrint",
        )
        yield _row("40 bench sheets, two workers", f"{found.pool.two_s:.1f} s", "")
    if found.while_papers is not None:
        idle, busy = found.while_papers.idle, found.while_papers.busy
        yield _row(
            f"list page for one reader, while {found.while_papers.papers} papers are made",
            f"p50 {busy.p50_ms:.1f}, p99 {busy.p99_ms:.1f} ms",
            f"p50 {idle.p50_ms:.1f}, p99 {idle.p99_ms:.1f} ms, idle",
        )
    for memory in found.memory:
        held = ", ".join(f"{mb:.0f} MB at {at:,}" for at, mb in zip(memory.at, memory.held_mb, strict=True))
        yield _row(f"memory of {memory.name}", held, "")


def _rate(rate: Rate) -> str:
    return _row(
        rate.asked.name, rate.book, f"{rate.orders:,}", str(rate.processes), str(rate.connections),
        f"{rate.app.p50_ms:.2f}", f"{rate.app.p99_ms:.2f}", f"{rate.app.rate:.0f}",
        f"{rate.floor.p50_ms:.2f}", f"{rate.floor.p99_ms:.2f}", f"{rate.floor.rate:.0f}", f"{rate.share:.2f}",
    )  # fmt: skip


def _head(*names: str) -> Iterator[str]:
    yield _row(*names)
    yield _row(*("---" for _ in names))


def _row(*cells: str) -> str:
    return f"| {' | '.join(cells)} |"
