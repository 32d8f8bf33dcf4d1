"""Cutting plans made outside: a process a plan, a few at once, ended when its time is over or nobody waits.

A search takes a processor for seconds; in a thread of the web process every other page would wait for it.
"""

import asyncio
import logging
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import studio
from studio.craft.cutting import Blank, Plan, Stock, first_fit
from studio.papers.wire import LENGTH_BYTES, framed, read_length, unframed

LOG = logging.getLogger("studio.web.planner")


@dataclass(frozen=True, slots=True)
class PlanTask:
    """What is to be cut from what, with which kerf. All in micrometres."""

    stock: tuple[Stock, ...]
    blanks: tuple[Blank, ...]
    kerf_um: int


@dataclass(frozen=True, slots=True)
class Limits:
    """What a plan may take: seconds of searching, seconds on top until its process is ended, memory."""

    search_s: float = 9.0
    grace_s: float = 1.5
    memory_bytes: int = 2_000_000_000


class Planner:
    """Plans in at most `at_once` processes; further plans wait their turn, within their own time."""

    def __init__(self, limits: Limits | None = None, at_once: int = 2) -> None:
        self._limits = limits or Limits()
        self._turns = asyncio.Semaphore(at_once)

    async def plan(self, task: PlanTask, told: Callable[[Plan], None] = lambda _: None) -> Plan:
        """The best plan found. `told` hears each better one. Cancelled, the search ends at once.

        Where the process cannot be started, or takes more time or memory than it may, it is the best plan
        told until then, at the least first-fit decreasing.
        """
        best: list[Plan] = []

        def better(found: Plan) -> None:
            best.append(found)
            told(found)

        with suppress(TimeoutError):
            async with asyncio.timeout(self._limits.search_s + self._limits.grace_s), self._turns:
                await self._searched(task, better)
        return best[-1] if best else first_fit(task.stock, task.blanks, task.kerf_um)

    async def _searched(self, task: PlanTask, told: Callable[[Plan], None]) -> None:
        try:
            process = await asyncio.create_subprocess_exec(
                sys.executable,
                "-m",
                "studio.web.planning",
                str(self._limits.memory_bytes),
                stdin=asyncio.subprocess.PIPE,
                stdout=asyncio.subprocess.PIPE,
                limit=1_000_000,
                cwd=Path(studio.__file__).parent.parent,  # where `-m` finds this very program
                env={name: value for name, value in os.environ.items() if not name.startswith("STUDIO_")},
                start_new_session=True,  # an interrupt from the keyboard is the server's to answer
            )
        except OSError as error:
            LOG.error("no process for a cutting plan can be started: %s", error.strerror)  # noqa: TRY400  where is no news
            return
        try:
            assert process.stdin is not None and process.stdout is not None  # noqa: S101, PT018  as it was started
            process.stdin.write(framed((task.stock, task.blanks, task.kerf_um, self._limits.search_s)))
            with suppress(ConnectionError):
                await process.stdin.drain()
            is_last = False
            while not is_last:
                try:
                    length = await process.stdout.readexactly(LENGTH_BYTES)
                    data = await process.stdout.readexactly(read_length(length))
                except (asyncio.IncompleteReadError, ConnectionError):
                    LOG.warning("a cutting plan ended before its time")
                    return
                found, is_last = unframed(data)
                told(found)
        finally:
            with suppress(ProcessLookupError):
                process.kill()
            await process.wait()
