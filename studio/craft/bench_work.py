"""What happened to one ring at the bench, and where that leaves it: done, running, measured, how long."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from enum import StrEnum

from studio.craft.operations import Operation


class What(StrEnum):
    """One thing that happens at the bench, as it is written down. Nothing that was written is erased."""

    STARTED = "started"
    STOPPED = "stopped"
    DONE = "done"
    NOTED = "noted"  # a figure or the minutes, without a tick
    REOPENED = "reopened"  # a step ticked long ago is not done after all
    UNDONE = "undone"  # the last thing that stood is taken back


class WhyNotNow(StrEnum):
    """Why a thing cannot happen as the ring stands."""

    NO_SUCH_STEP = "no such step"
    DONE_ALREADY = "done already"
    NOT_DONE = "not done"
    RUNS_ALREADY = "runs already"
    NOT_RUNNING = "not running"
    NOTHING_TO_UNDO = "nothing to undo"
    PROOF_NOT_SIGNED = "proof not signed"


@dataclass(frozen=True, slots=True)
class Happened:
    """One thing that happened: `serial` counts those of a ring from 1 on without a gap.

    `figure` is in mm or g, `minutes` are those typed; `then` is the step whose clock goes on with a tick,
    `undoes` the serial of what is taken back.
    """

    serial: int
    what: What
    operation: str
    at: datetime
    by: str
    figure: float | None = None
    minutes: int | None = None
    then: str = ""
    reason: str = ""
    undoes: int | None = None


@dataclass(frozen=True, slots=True)
class StepWork:
    """What is known of one step. `seconds` are those of the clock while it was stopped again."""

    seconds: float = 0.0
    minutes: int | None = None
    figure: float | None = None
    is_done: bool = False
    done_by: str = ""
    done_at: datetime | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class OpenClock:
    """The clock that runs: on which step, since when, started by whom. A ring has one at most."""

    operation: str
    since: datetime
    by: str


@dataclass(frozen=True, slots=True)
class BenchWork:
    """Where a ring stands: its steps by key, the clock that runs, the last thing that can be taken back.

    `version` is the serial of the last row, 0 before there is any.
    """

    steps: Mapping[str, StepWork] = field(default_factory=dict)
    running: OpenClock | None = None
    last: Happened | None = None
    version: int = 0

    def step(self, key: str) -> StepWork:
        """What is known of the step, which may be nothing."""
        return self.steps.get(key, _UNTOUCHED)

    def is_done(self, key: str) -> bool:
        """Whether the step is ticked."""
        return self.step(key).is_done

    def seconds(self, key: str, now: datetime) -> float:
        """How long the clock has run on the step by `now`, the open clock with it."""
        ran = self.step(key).seconds
        if self.running is not None and self.running.operation == key:
            ran += _between(self.running.since, now)
        return ran

    def minutes(self, key: str, now: datetime) -> float | None:
        """How long the step took: what was typed goes before the clock; None where neither says anything."""
        typed = self.step(key).minutes
        if typed is not None:
            return float(typed)
        ran = self.seconds(key, now)
        return ran / 60 if ran > 0 else None


_UNTOUCHED = StepWork()


@dataclass(frozen=True, slots=True)
class Spell:
    """Time at one step: from a moment to another, or the `minutes` typed of the step at `until`."""

    operation: str
    since: datetime
    until: datetime
    minutes: float | None = None

    def minutes_between(self, start: datetime, end: datetime) -> float:
        """How many of its minutes lie from `start` up to `end`; typed ones lie where they were typed.

        A clock from 9:00 to 10:30 has 30 minutes between 10:00 and 12:00.
        """
        if self.minutes is not None:
            return self.minutes if start <= self.until < end else 0.0
        return _between(max(self.since, start), min(self.until, end)) / 60


def spells(happened: Iterable[Happened], now: datetime) -> tuple[Spell, ...]:
    """When a ring was worked on, by what stands: typed minutes of a step take the place of its clock.

    A clock that runs still has run until `now`.
    """
    work, ran = BenchWork(), list[Spell]()
    typed: dict[str, Spell] = {}
    for one in _standing(tuple(happened)):
        if work.running is not None and _stops(work.running, one):
            ran.append(Spell(work.running.operation, work.running.since, one.at))
        if one.minutes is not None:
            typed[one.operation] = Spell(one.operation, one.at, one.at, float(one.minutes))
        work = _after(work, one)
    if work.running is not None:
        ran.append(Spell(work.running.operation, work.running.since, now))
    return (*(one for one in ran if one.operation not in typed), *typed.values())


def bench_work(happened: Iterable[Happened]) -> BenchWork:
    """Where a ring stands after all that happened to it, the first first.

    What was undone counts as if it had never been; a clock that is started stops the one that runs.
    """
    rows = tuple(happened)
    standing = _standing(rows)
    work = BenchWork()
    for one in standing:
        work = _after(work, one)
    last = standing[-1] if standing else None
    return replace(work, last=last, version=rows[-1].serial if rows else 0)


def why_not_now(
    work: BenchWork, what: What, operation: str, operations: Sequence[Operation]
) -> WhyNotNow | None:
    """Why this cannot happen to the ring as it stands, or None where it can."""
    if what is What.UNDONE:
        return WhyNotNow.NOTHING_TO_UNDO if work.last is None else None
    if operation not in {one.key for one in operations}:
        return WhyNotNow.NO_SUCH_STEP
    runs = work.running is not None and work.running.operation == operation
    refused = {
        What.DONE: (work.is_done(operation), WhyNotNow.DONE_ALREADY),
        What.REOPENED: (not work.is_done(operation), WhyNotNow.NOT_DONE),
        What.STARTED: (runs, WhyNotNow.RUNS_ALREADY),
        What.STOPPED: (not runs, WhyNotNow.NOT_RUNNING),
    }
    is_refused, why = refused.get(what, (False, None))
    return why if is_refused else None


def next_step(work: BenchWork, operations: Sequence[Operation]) -> Operation | None:
    """The first step of the route that is not ticked, None once all are."""
    return next((one for one in operations if not work.is_done(one.key)), None)


def passed_over(work: BenchWork, operations: Sequence[Operation], key: str) -> tuple[Operation, ...]:
    """The steps before `key` that are not ticked: it is out of order while there are any."""
    found: list[Operation] = []
    for one in operations:
        if one.key == key:
            break
        if not work.is_done(one.key):
            found.append(one)
    return tuple(found)


def goes_on_with(work: BenchWork, operations: Sequence[Operation], key: str) -> str:
    """The step whose clock goes on once `key` is ticked while its own clock runs; '' for none."""
    if work.running is None or work.running.operation != key:
        return ""
    return next((one.key for one in operations if one.key != key and not work.is_done(one.key)), "")


def _standing(rows: Sequence[Happened]) -> list[Happened]:
    """What was not taken back, in order."""
    standing: list[Happened] = []
    for one in rows:
        if one.what is not What.UNDONE:
            standing.append(one)
        elif standing and standing[-1].serial == one.undoes:
            standing.pop()
    return standing


def _after(work: BenchWork, one: Happened) -> BenchWork:
    steps, running = dict(work.steps), work.running
    told = steps.get(one.operation, _UNTOUCHED)
    if one.figure is not None:
        told = replace(told, figure=one.figure)
    if one.minutes is not None:
        told = replace(told, minutes=one.minutes)
    if one.what is What.DONE:
        told = replace(told, is_done=True, done_by=one.by, done_at=one.at, reason=one.reason)
    elif one.what is What.REOPENED:
        told = replace(told, is_done=False, done_by="", done_at=None, reason=one.reason)
    steps[one.operation] = told
    if running is not None and _stops(running, one):
        ran = steps.get(running.operation, _UNTOUCHED)
        steps[running.operation] = replace(ran, seconds=ran.seconds + _between(running.since, one.at))
        running = None
    starts = one.operation if one.what is What.STARTED else one.then
    if starts:
        running = OpenClock(starts, one.at, one.by)
    return replace(work, steps=steps, running=running)


def _stops(running: OpenClock, one: Happened) -> bool:
    """Whether this ends the clock: another is started, or its own step is stopped or done."""
    return one.what is What.STARTED or (
        one.what in {What.STOPPED, What.DONE} and one.operation == running.operation
    )


def _between(since: datetime, until: datetime) -> float:
    """Seconds from one to the other; none where the computer's clock was set back in between."""
    return max(0.0, (until - since).total_seconds())
