"""The paper pool: a few processes that print, so that the one that answers the counter never does.

A render takes the processor for a tenth of a second and more, a week's sheets for seconds; in a thread of the
web process every other page would wait for it. So each paper is handed to a worker (`worker.py`) and awaited.
A worker that is killed, stuck, or out of memory is replaced, and whoever asked is told (`PaperNotMade`).
Pictures that somebody sent are decoded here too (`pictures.py`): what may burst bursts where nothing is lost.

Each worker has a pipe of its own and one task here that looks after it. Nothing is shared between workers: a
process that dies in the midst of whatever it does can hold no lock and spoil no queue of the others.
"""

import asyncio
import logging
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from enum import StrEnum
from functools import partial
from itertools import count
from pathlib import Path
from types import TracebackType
from typing import Any, Self

import studio
from studio.papers.joining import joined
from studio.papers.paper import Paper
from studio.papers.pictures import TakenIn, take_in, taken_in
from studio.papers.printing import at_once, to_join
from studio.papers.wire import LENGTH_BYTES, Outcome, framed, read_length, unframed

LOG = logging.getLogger("studio.papers")

_PIPE_BYTES = 1_000_000
_UNASKED_S = 2.0
"""How long a job goes on that nobody waits for any more: about what it takes to replace its worker."""


class Cause(StrEnum):
    """Why a paper is not made."""

    TOO_SLOW = "too slow"
    TOO_BIG = "too big"
    INTERRUPTED = "interrupted"


class PaperNotMade(Exception):
    """The paper took more time or memory than it may, or its worker ended. Asked again, it may be made."""

    def __init__(self, cause: Cause) -> None:
        super().__init__(cause)
        self.cause = cause


class PaperFailed(Exception):
    """The paper cannot be printed: a fault of ours, named by the kind of error and the place."""

    def __init__(self, kind: str, where: str) -> None:
        super().__init__(f"{kind} in {where}")


@dataclass(frozen=True, slots=True)
class Limits:
    """What a worker may take: for one go of at most ten sheets, a picture, its start, and its whole memory.

    After `goes` it is replaced as soon as nobody waits: what reads and lays out a paper loses some memory for
    good with every one, about 80 kB a sheet as measured.
    """

    go_s: float = 60.0
    picture_s: float = 20.0
    start_s: float = 60.0
    memory_bytes: int = 1_500_000_000
    goes: int = 100


@dataclass(order=True, slots=True)
class _Job:
    """Something to be made by a worker. The first goes of all papers come before the second ones of any."""

    turn: int
    asked: int
    seconds: float = field(compare=False)
    question: bytes = field(compare=False)
    answer: asyncio.Future[Any] = field(compare=False)

    def fail(self, error: PaperNotMade | PaperFailed) -> None:
        """Answer with why it is not made, unless nobody waits for it any more."""
        if not self.answer.done():
            self.answer.set_exception(error)


class PaperPool:
    """Prints papers in `workers` processes; open while the app runs, in one event loop.

    Opening it does not wait for the workers: what is asked before they are ready waits for them.
    """

    def __init__(self, workers: int, limits: Limits | None = None) -> None:
        self._limits = limits or Limits()
        self._workers = workers
        self._jobs: asyncio.PriorityQueue[_Job] = asyncio.PriorityQueue()
        self._asked = count()
        self._hands: list[asyncio.Task[None]] = []

    async def __aenter__(self) -> Self:
        self._hands = [asyncio.create_task(self._hand()) for _ in range(self._workers)]
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        for hand in self._hands:
            hand.cancel()
        await asyncio.gather(*self._hands, return_exceptions=True)
        while not self._jobs.empty():
            self._jobs.get_nowait().fail(PaperNotMade(Cause.INTERRUPTED))

    async def pdf(self, paper: Paper) -> bytes:
        """The paper as PDF, byte for byte what `printed` gives.

        Raises `PaperNotMade` and `PaperFailed`. Cancelled, it is not begun, or ended soon after.
        """
        goes = paper.goes
        if len(goes) == 1:
            return bytes(await self._made(partial(at_once, paper)))
        parts: list[asyncio.Future[Any]] = []
        try:
            for turn, go in enumerate(goes):
                parts.append(self._made(partial(to_join, go), turn))
                await asyncio.sleep(0)  # a go takes milliseconds to pack: let others speak in between
            sheaves = await asyncio.gather(*parts)
        finally:
            for part in parts:
                part.cancel()
        return bytes(await self._made(partial(joined, sheaves)))

    async def picture(self, raw: bytes) -> TakenIn:
        """A picture that somebody sent, written anew. Raises `PictureRefused`, and as `pdf` does."""
        return taken_in(await self._made(partial(take_in, raw), seconds=self._limits.picture_s))

    def _made(
        self, work: Callable[[], object], turn: int = 0, *, seconds: float | None = None
    ) -> asyncio.Future[Any]:
        given_s = self._limits.go_s if seconds is None else seconds
        question = framed((given_s, work))
        job = _Job(turn, next(self._asked), given_s, question, asyncio.get_running_loop().create_future())
        self._jobs.put_nowait(job)
        return job.answer

    async def _hand(self) -> None:
        """Look after one worker: give it one job after the other, and put another in its place if it ends."""
        worker = await _started(self._limits)
        goes = 0
        try:
            while True:
                if goes >= self._limits.goes and self._jobs.empty():
                    worker, goes = await self._replaced(worker), 0
                job = await self._jobs.get()
                if job.answer.done():
                    continue
                goes += 1
                try:
                    worker = await self._done_by(worker, job)
                finally:
                    job.fail(PaperNotMade(Cause.INTERRUPTED))  # the pool is closed, or no worker starts
        finally:
            if worker is not None:
                await worker.end()

    async def _done_by(self, worker: "_Worker | None", job: _Job) -> "_Worker | None":
        """Have the job done. The worker for the next one, None where none starts."""
        if worker is None or worker.has_ended:
            worker = await self._replaced(worker)
        if worker is None or await worker.do(job):
            return worker
        return await self._replaced(worker)

    async def _replaced(self, worker: "_Worker | None") -> "_Worker | None":
        if worker is not None:
            await worker.end()
        return await _started(self._limits)


@dataclass(frozen=True, slots=True)
class _Worker:
    """One printing process."""

    process: asyncio.subprocess.Process

    @property
    def has_ended(self) -> bool:
        """Whether the process is gone."""
        return self.process.returncode is not None

    async def do(self, job: _Job) -> bool:
        """Have the job done and answered. Whether the worker is fit for another."""
        asked = asyncio.create_task(self._asked(job.question))
        cause = Cause.INTERRUPTED
        try:
            await asyncio.wait({asked, job.answer}, timeout=job.seconds, return_when=asyncio.FIRST_COMPLETED)
            if job.answer.cancelled():
                await asyncio.wait({asked}, timeout=_UNASKED_S)
            cause = Cause.TOO_SLOW
        finally:
            if not asked.done():
                asked.cancel()
                await asyncio.wait({asked})
                job.fail(_not_made(cause))
        if asked.cancelled():
            return False
        outcome, *more = asked.result()
        if outcome is not Outcome.MADE:
            job.fail(_failure(outcome, *more))
            return False
        if not job.answer.done():
            job.answer.set_result(more[0])
        return True

    async def _asked(self, question: bytes) -> tuple[Any, ...]:
        assert self.process.stdin is not None  # noqa: S101  both are pipes, as it was started
        self.process.stdin.write(question)
        with suppress(ConnectionError):
            await self.process.stdin.drain()
        return await self.answer()

    async def answer(self) -> tuple[Any, ...]:
        """What the worker says next; that it was interrupted, where it ended without a word."""
        assert self.process.stdout is not None  # noqa: S101  as above
        try:
            length = await self.process.stdout.readexactly(LENGTH_BYTES)
            data = await self.process.stdout.readexactly(read_length(length))
        except (asyncio.IncompleteReadError, ConnectionError):
            return (Cause.INTERRUPTED,)
        told: tuple[Any, ...] = unframed(data)
        return told

    async def end(self) -> None:
        """End the process, whatever it does, and wait until it is gone."""
        assert self.process.stdout is not None  # noqa: S101  as above
        with suppress(ProcessLookupError):
            self.process.kill()
        with suppress(ConnectionError):
            await self.process.stdout.read()
        await self.process.wait()


async def _started(limits: Limits) -> _Worker | None:
    """A worker that is ready, or None where none can be started."""
    try:
        process = await asyncio.create_subprocess_exec(
            sys.executable,
            "-m",
            "studio.papers.worker",
            str(limits.memory_bytes),
            stdin=asyncio.subprocess.PIPE,
            stdout=asyncio.subprocess.PIPE,
            limit=_PIPE_BYTES,
            cwd=Path(studio.__file__).parent.parent,  # where `-m` finds this very program
            env={name: value for name, value in os.environ.items() if not name.startswith("STUDIO_")},
            start_new_session=True,  # an interrupt from the keyboard is the server's to answer
        )
    except OSError as error:
        LOG.error("no worker for papers can be started: %s", error.strerror)  # noqa: TRY400  where is no news
        return None
    worker = _Worker(process)
    is_ready = False
    try:
        with suppress(TimeoutError):
            outcome, *more = await asyncio.wait_for(worker.answer(), limits.start_s)
            is_ready = outcome is Outcome.READY
            if not is_ready:
                LOG.error("a worker for papers ended at its start: %s", " in ".join(more) or outcome)
    finally:
        if not is_ready:
            await worker.end()
    return worker if is_ready else None


def _failure(outcome: Outcome | Cause, kind: str = "", where: str = "") -> PaperNotMade | PaperFailed:
    if outcome is Outcome.FAILED:
        LOG.error("a paper could not be printed: %s in %s", kind, where)
        return PaperFailed(kind, where)
    return _not_made(Cause.TOO_BIG if outcome is Outcome.TOO_BIG else Cause.INTERRUPTED)


def _not_made(cause: Cause) -> PaperNotMade:
    LOG.warning("a paper was not made: %s", cause)
    return PaperNotMade(cause)
