"""Where a thing lies and how far it has come: told by what the book knows, kept nowhere a second time."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from studio.craft.bench_work import BenchWork, next_step
from studio.craft.operations import Does, Operation
from studio.craft.orders import State

LONGEST_PLACE = 60


class Progress(StrEnum):
    """How far a ring has come."""

    DRAFT = "draft"
    QUOTED = "quoted"
    AGREED = "agreed"
    NOT_BEGUN = "at the bench, not begun"
    OPEN = "at the bench"
    CLOSED = "closed"
    MADE = "every step done"
    READY = "ready"
    HANDED_OVER = "handed over"
    CALLED_OFF = "called off"


@dataclass(frozen=True, slots=True)
class Standing:
    """How far a ring has come, and the step that comes next; '' where none does.

    `by` is whose clock runs on that step, '' while none runs.
    """

    progress: Progress
    step: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class PutDown:
    """One time a thing was put down: `place` is '' where nobody said where. `serial` grows with each."""

    serial: int
    place: str
    at: datetime
    by: str


@dataclass(frozen=True, slots=True)
class Out:
    """A thing that is out of the house: with whom, by which slip, since when, and who gave it out."""

    slip: str
    worker: str
    since: datetime
    by: str


@dataclass(frozen=True, slots=True)
class Lies:
    """The one place of a thing: in the house, or with whoever holds it. `place` is '' where nobody said."""

    place: str = ""
    since: datetime | None = None
    by: str = ""
    slip: str = ""

    @property
    def is_out(self) -> bool:
        """Whether somebody outside holds it."""
        return bool(self.slip)


def lies(put_down: Iterable[PutDown], out: Out | None) -> Lies:
    """Where a thing lies: with whoever holds it while it is out, else where it was put down last."""
    if out is not None:
        return Lies(out.worker, out.since, out.by, out.slip)
    last = max(put_down, key=lambda one: one.serial, default=None)
    return Lies() if last is None else Lies(last.place, last.at, last.by)


_BY_STATE = {
    State.DRAFT: Progress.DRAFT,
    State.QUOTED: Progress.QUOTED,
    State.AGREED: Progress.AGREED,
    State.READY: Progress.READY,
    State.HANDED_OVER: Progress.HANDED_OVER,
    State.CALLED_OFF: Progress.CALLED_OFF,
}


def standing(state: State, work: BenchWork, operations: Sequence[Operation]) -> Standing:
    """How far a ring has come, by its order's state and, at the bench, by the steps ticked off.

    It is closed once every step that closes its seam is ticked, whatever was passed over before.
    """
    if state is not State.AT_THE_BENCH:
        return Standing(_BY_STATE[state])
    running = work.running
    step = next_step(work, operations)
    if running is not None:
        step = next((one for one in operations if one.key == running.operation), step)
    closing = [one for one in operations if Does.CLOSES in one.does]
    if step is None:
        progress = Progress.MADE
    elif closing and all(work.is_done(one.key) for one in closing):
        progress = Progress.CLOSED
    elif running is not None or any(one.is_done for one in work.steps.values()):
        progress = Progress.OPEN
    else:
        progress = Progress.NOT_BEGUN
    return Standing(progress, "" if step is None else step.name.rstrip(",.:"), running.by if running else "")
