"""The board of searches: the best so far at once, better ones behind, ended when somebody says so."""

import asyncio
import time
from dataclasses import replace
from random import Random

from studio.craft.designs import Stock as From
from studio.craft.needs import CutGroup, CutKind
from studio.web.plan_board import PlanBoard, first_plan
from studio.web.planner import Limits, Planner
from tests.stock import BLANK, SHEET


def a_group(blanks: int, pieces: int = 12) -> CutGroup:
    """A week's blanks of several widths, and sheets that hold them."""
    chance = Random(blanks)  # noqa: S311  the same every time
    return CutGroup(
        CutKind("silver-925", From.STRIP, 1500),
        tuple(
            replace(
                BLANK,
                ring=f"2026-{number}/1",
                order=f"2026-{number}",
                width_um=chance.choice((4000, 5000, 6000, 8000)),
                mark_um=chance.randrange(52_000, 72_000, 100),
            )
            for number in range(blanks)
        ),
        tuple(
            replace(SHEET, id=n, mark=f"S-{n:03d}", length_um=150_000 + 7_000 * n, width_um=16_000 + 900 * n)
            for n in range(1, pieces + 1)
        ),
        310,
    )


def test_a_handful_is_proved_at_once_without_a_search() -> None:
    async def look() -> bool:
        search = PlanBoard(Planner()).search(a_group(5, 3))
        return search.is_over and search.best.is_proved and search.running is None

    assert asyncio.run(look())


def test_first_fit_stands_within_a_second_and_the_search_never_falls_behind_it() -> None:
    group = a_group(40)

    async def look() -> None:
        board = PlanBoard(Planner(Limits(search_s=3.0)))
        started = time.monotonic()
        search = board.search(group)
        assert time.monotonic() - started < 1.0
        first = first_plan(group)
        assert (search.best, search.is_over) == (first, False)
        assert board.search(group) is search  # whoever asks next shares it
        await board.settled((group,), 10.0)
        assert search.is_over
        assert search.best.unplaced == ()
        assert search.best.opened_area_um2 <= first.opened_area_um2
        await board.close()

    asyncio.run(look())


def test_a_search_is_ended_with_what_was_found() -> None:
    group = a_group(300, 40)

    async def look() -> None:
        board = PlanBoard(Planner())
        search = board.search(group)
        await asyncio.sleep(1.5)
        started = time.monotonic()
        await board.cancel(group)
        assert time.monotonic() - started < 1.0
        assert search.is_over
        assert search.best.opened_area_um2 <= first_plan(group).opened_area_um2
        assert board.search(group) is search  # it is not begun anew
        await board.close()

    asyncio.run(look())
