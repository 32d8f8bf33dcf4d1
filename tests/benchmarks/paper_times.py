"""How long papers take, beside bare WeasyPrint on the same HTML, and how two workers share forty."""

import asyncio
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from statistics import median
from typing import Any

from weasyprint import CSS, HTML  # type: ignore[import-untyped]  # the package carries no types
from weasyprint.text.fonts import FontConfiguration  # type: ignore[import-untyped]  # as above

from studio.book.engine import open_book, session
from studio.book.order_reads import order
from studio.book.quote_paper import paper_of_issued
from studio.papers.bench_sheet import bench_sheets
from studio.papers.fonts import private_fonts
from studio.papers.paper import Paper
from studio.papers.pool import PaperPool
from studio.papers.quote import quote_to_print
from studio.papers.render import BASE_URL, NamedAssets, markup_of, print_at_once
from studio.resources import templates_dir
from tests.benchmarks.served import Book
from tests.papers.sheets import SHEETS

SHEETS_AT_ONCE = 40


@dataclass(frozen=True, slots=True)
class PaperTime:
    """The median of some papers in ms, the app's way and the bare one; they were made in turn."""

    name: str
    app_ms: float
    bare_ms: float


@dataclass(frozen=True, slots=True)
class PoolTimes:
    """Seconds for forty bench sheets: one worker, two, and bare WeasyPrint on one sheet after the other."""

    one_s: float
    two_s: float
    bare_s: float


class Bare:
    """WeasyPrint alone: the same HTML, styles read and fonts known once, the same kind of PDF."""

    def __init__(self) -> None:
        with private_fonts():
            self._fonts = FontConfiguration()
        self._styles: dict[str, list[CSS]] = {}

    def pdf(self, template: str, markup: str) -> bytes:
        """One PDF of this HTML."""
        if template not in self._styles:
            papers = templates_dir() / "papers"
            self._styles[template] = [
                CSS(string=file.read_text("utf-8"), font_config=self._fonts)
                for file in (papers / "layout.css", papers / template / "paper.css")
            ]
        page = HTML(string=markup, base_url=BASE_URL, url_fetcher=NamedAssets({}), media_type="print")
        made: bytes = page.write_pdf(
            stylesheets=self._styles[template], font_config=self._fonts, pdf_variant="pdf/ua-1"
        )
        return made


def papers_of(book: Book) -> dict[str, Paper]:
    """A quote of the book, and one bench sheet."""
    engine = open_book(book.address)
    with session(engine) as opened:
        number = order(opened, book.agreed[0]).quotes[-1].number
        told = paper_of_issued(opened, number)
    engine.dispose()
    return {
        "quote PDF": quote_to_print(told),
        "bench sheet": bench_sheets([SHEETS["plain"]], title="A sheet"),
    }


def forty_sheets() -> Paper:
    """Forty bench sheets of every kind."""
    kinds = list(SHEETS.values())
    rings = [kinds[place % len(kinds)] for place in range(SHEETS_AT_ONCE)]
    return bench_sheets(rings, title="Forty sheets")


def paper_times(book: Book, *, rounds: int) -> list[PaperTime]:
    """Each paper from its context to its bytes, and its HTML by WeasyPrint alone, in turn and warm."""
    bare, found = Bare(), []
    for name, paper in papers_of(book).items():
        markup = _markup(paper, 0)
        ours, theirs = _in_turn(
            rounds, partial(print_at_once, paper), partial(bare.pdf, paper.template, markup)
        )
        found.append(PaperTime(name, ours * 1000, theirs * 1000))
    return found


def pool_times(*, rounds: int) -> PoolTimes:
    """Forty bench sheets by a pool of one worker and of two, in turn and warm, and by WeasyPrint alone."""
    forty, bare = forty_sheets(), Bare()
    markups = [_markup(forty, place) for place in range(len(forty.parts))]
    one_s, two_s = asyncio.run(_pools(forty, rounds))
    bare.pdf(forty.template, markups[0])
    started = time.perf_counter()
    for markup in markups:
        bare.pdf(forty.template, markup)
    return PoolTimes(one_s, two_s, time.perf_counter() - started)


async def _pools(forty: Paper, rounds: int) -> tuple[float, float]:
    async def timed(pool: PaperPool) -> float:
        started = time.perf_counter()
        await pool.pdf(forty)
        return time.perf_counter() - started

    async with PaperPool(1) as one, PaperPool(2) as two:
        await timed(one)
        await timed(two)
        times = [(await timed(one), await timed(two)) for _ in range(rounds)]
    return median(ones for ones, _ in times), median(twos for _, twos in times)


def _markup(paper: Paper, place: int) -> str:
    return markup_of(paper.template, paper.parts[place](), title=paper.title, language=paper.language)


def _in_turn(rounds: int, *ways: Callable[[], Any]) -> Sequence[float]:
    """The median seconds of each way, after one round that is not counted."""
    times: list[list[float]] = [[] for _ in ways]
    for counted in range(rounds + 1):
        for way, taken in zip(ways, times, strict=True):
            started = time.perf_counter()
            way()
            if counted:
                taken.append(time.perf_counter() - started)
    return [median(taken) for taken in times]
