import asyncio
import logging
import os
import re
import signal
import subprocess
import sys
from collections.abc import Callable, Coroutine
from functools import partial
from pathlib import Path
from typing import Any, TypeVar

import pytest

from studio.papers.bench_sheet import bench_sheets
from studio.papers.paper import Paper
from studio.papers.pool import Cause, Limits, PaperFailed, PaperNotMade, PaperPool
from studio.papers.printing import printed
from studio.papers.quote import quote_paper, quote_to_print
from studio.papers.worker import GIVES_WAY
from tests.papers import parts
from tests.papers.printed import text_of
from tests.papers.processes import is_there, wait_until
from tests.papers.quotes import QUOTES
from tests.papers.sheets import SHEETS
from tests.running import ROOT, environment

T = TypeVar("T")
PATIENT = Limits(go_s=600.0, start_s=600.0)
"""Limits that no paper reaches, however busy the machine."""


def with_pool(
    what: Callable[[PaperPool], Coroutine[Any, Any, T]], workers: int = 1, limits: Limits = PATIENT
) -> T:
    """What comes of it while a pool is open."""

    async def run() -> T:
        async with PaperPool(workers, limits) as pool:
            return await what(pool)

    return asyncio.run(run())


async def why_not(pool: PaperPool, part: Callable[[], object]) -> Cause:
    """Why the pool does not make a paper with this part."""
    with pytest.raises(PaperNotMade) as refused:
        await pool.pdf(parts.a_paper(part))
    return refused.value.cause


async def process_of(pool: PaperPool) -> int:
    """The process that makes a paper."""
    found = re.search(r"process (\d+)", text_of(await pool.pdf(parts.a_paper(parts.telling))))
    assert found is not None
    return int(found[1])


def test_a_worker_makes_the_very_bytes_that_are_made_in_this_process() -> None:
    papers = [
        bench_sheets([SHEETS["plain"]], title="A sheet"),
        bench_sheets([SHEETS["wide-band"], SHEETS["half-round-wire"]], title="Two sheets"),
        quote_to_print(quote_paper(next(iter(QUOTES.values())))),
        parts.weeks(23),
    ]

    async def made(pool: PaperPool) -> list[bytes]:
        return [await pool.pdf(paper) for paper in papers]

    assert with_pool(made) == [printed(paper) for paper in papers]


def test_a_worker_is_replaced_after_its_goes_and_nobody_misses_a_paper() -> None:
    async def who_made(pool: PaperPool) -> list[int]:
        return [await process_of(pool) for _ in range(6)]

    by = with_pool(who_made, limits=Limits(go_s=600.0, start_s=600.0, goes=2))
    assert by[0] == by[1] != by[2] == by[3] != by[4] == by[5]


def test_two_workers_make_the_bytes_of_one() -> None:
    papers = [parts.weeks(12), bench_sheets([SHEETS["plain"]], title="A sheet"), parts.weeks(31)]

    async def made(pool: PaperPool) -> list[bytes]:
        return await asyncio.gather(*(pool.pdf(paper) for paper in papers))

    assert with_pool(made, workers=2) == [printed(paper) for paper in papers]


def test_opening_waits_for_no_worker_and_closing_for_no_paper() -> None:
    async def run() -> BaseException | bytes:
        async with PaperPool(1, PATIENT) as pool:
            asked = asyncio.ensure_future(pool.pdf(parts.a_paper(parts.endless)))
            await asyncio.sleep(0)
        (told,) = await asyncio.gather(asked, return_exceptions=True)
        return told

    told = asyncio.run(run())
    assert isinstance(told, PaperNotMade)
    assert told.cause is Cause.INTERRUPTED


def test_a_worker_killed_in_the_midst_is_told_and_replaced() -> None:
    async def run(pool: PaperPool) -> tuple[Cause, bytes]:
        return await why_not(pool, parts.killed), await pool.pdf(parts.a_paper())

    assert with_pool(run) == (Cause.INTERRUPTED, printed(parts.a_paper()))


def test_a_paper_that_never_ends_is_ended_at_the_limit_and_the_next_one_is_made() -> None:
    async def run(pool: PaperPool) -> tuple[int, Cause, int]:
        return await process_of(pool), await why_not(pool, parts.endless), await process_of(pool)

    before, cause, after = with_pool(run, limits=Limits(go_s=10.0, start_s=600.0))
    assert cause is Cause.TOO_SLOW
    assert before != after
    assert not is_there(before)


def test_a_paper_that_takes_more_memory_than_it_may_is_told_and_the_next_one_is_made() -> None:
    async def run(pool: PaperPool) -> tuple[Cause, bytes]:
        return await why_not(pool, parts.huge), await pool.pdf(parts.a_paper())

    assert with_pool(run) == (Cause.TOO_BIG, printed(parts.a_paper()))


def test_a_fault_is_logged_by_kind_and_place_without_what_it_fell_over(
    caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    async def run(pool: PaperPool) -> bytes:
        with pytest.raises(PaperFailed, match=r"LookupError in parts\.py:\d+ faulty"):
            await pool.pdf(parts.a_paper(partial(parts.faulty, "Ines Radley")))
        return await pool.pdf(parts.a_paper())

    assert with_pool(run) == printed(parts.a_paper())
    assert "LookupError in parts.py" in caplog.text
    assert "Ines" not in caplog.text + "".join(capfd.readouterr())


def test_one_go_that_fails_fails_the_whole_batch_and_no_other_paper() -> None:
    good = parts.weeks(12)
    bad = Paper("empty_week", (*good.parts, parts.killed), good.title)

    async def run(pool: PaperPool) -> list[Any]:
        return list(await asyncio.gather(pool.pdf(bad), pool.pdf(good), return_exceptions=True))

    told, made = with_pool(run)
    assert isinstance(told, PaperNotMade)
    assert made == printed(good)


def test_a_paper_that_nobody_waits_for_any_more_makes_room_for_the_next(tmp_path: Path) -> None:
    note = tmp_path / "at it"

    async def run(pool: PaperPool) -> bytes:
        left = asyncio.ensure_future(pool.pdf(parts.a_paper(partial(parts.endless, str(note)))))
        never_begun = asyncio.ensure_future(pool.pdf(parts.a_paper(parts.endless)))
        await asyncio.to_thread(wait_until, note.exists)
        left.cancel()
        never_begun.cancel()
        return await pool.pdf(parts.a_paper())

    assert with_pool(run) == printed(parts.a_paper())
    assert not is_there(int(note.read_text("utf-8")))


def test_a_single_paper_is_made_before_the_later_tens_of_a_batch() -> None:
    order: list[str] = []

    async def run(pool: PaperPool) -> None:
        async def made(name: str, count: int) -> None:
            await pool.pdf(parts.weeks(count))
            order.append(name)

        await asyncio.gather(made("batch", 25), made("single", 1))

    with_pool(run)
    assert order == ["single", "batch"]


def test_a_worker_that_dies_at_rest_costs_one_paper_at_most() -> None:
    async def run(pool: PaperPool) -> bytes:
        os.kill(await process_of(pool), signal.SIGKILL)
        try:
            return await pool.pdf(parts.a_paper())
        except PaperNotMade:
            return await pool.pdf(parts.a_paper())

    assert with_pool(run) == printed(parts.a_paper())


def test_a_worker_gives_way_has_its_limit_and_is_told_no_setting(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STUDIO_SECRET", "s" * 40)

    async def run(pool: PaperPool) -> str:
        return text_of(await pool.pdf(parts.a_paper(parts.telling)))

    wanted = f"nice {os.nice(0) + GIVES_WAY} memory {Limits().memory_bytes} settings 0"
    assert wanted in with_pool(run)


@pytest.mark.parametrize("program", ["/nowhere/python", "/bin/false"])
def test_where_no_worker_starts_the_reader_is_told_instead_of_waiting(
    program: str, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(sys, "executable", program)

    async def run(pool: PaperPool) -> list[Cause]:
        return [await why_not(pool, parts.endless) for _ in range(2)]

    with caplog.at_level(logging.ERROR):
        assert with_pool(run) == [Cause.INTERRUPTED] * 2
    assert "worker" in caplog.text


HOLDS_A_POOL = """
import asyncio, sys
from functools import partial
from studio.papers.paper import Paper
from studio.papers.pool import PaperPool
from tests.papers import parts

async def main():
    async with PaperPool(2) as pool:
        papers = [parts.a_paper(partial(parts.endless, note)) for note in sys.argv[1:]]
        await asyncio.gather(*(pool.pdf(paper) for paper in papers))

asyncio.run(main())
"""


def test_no_worker_outlives_a_server_that_is_killed(tmp_path: Path) -> None:
    notes = [tmp_path / "first", tmp_path / "second"]
    with subprocess.Popen(
        [sys.executable, "-c", HOLDS_A_POOL, *map(str, notes)], cwd=ROOT, env=environment()
    ) as server:
        wait_until(lambda: all(note.exists() for note in notes))
        workers = [int(note.read_text("utf-8")) for note in notes]
        assert all(is_there(worker) for worker in workers)
        server.kill()
    wait_until(lambda: not any(is_there(worker) for worker in workers))


def test_the_web_app_does_not_load_the_printer() -> None:
    asked = "import sys, studio.cli, studio.web.app; print('weasyprint' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", asked], check=True, capture_output=True, text=True, cwd=ROOT, env=environment()
    )
    assert done.stdout.strip() == "False"
