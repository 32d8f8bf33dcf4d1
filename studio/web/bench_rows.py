"""The steps of a ring as a list: each row leads to its step, and those done long ago fold away."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from studio.book.bench_work import RingAtBench
from studio.craft.directions import apart
from studio.craft.operations import Operation
from studio.web.bench_words import measured_words, step_name
from studio.web.wording import opened

KEPT_IN_SIGHT = 2
"""So many of the steps done stand above the one that is done now; those before fold away."""


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step of the list; the whole row leads to it."""

    name: str
    note: str
    href: str
    is_done: bool
    is_shown: bool
    is_running: bool


def step_rows(
    stands: RingAtBench, shown: Operation | None, now: datetime
) -> tuple[tuple[StepRow, ...], tuple[StepRow, ...]]:
    """The rows that fold away, and those in sight."""
    rows = tuple(
        _row(f"{place}. {step_name(one)}", one, stands, now, is_shown=one is shown)
        for place, one in enumerate(stands.operations, 1)
    )
    folded = _folded(rows)
    return rows[:folded], rows[folded:]


def _folded(rows: Sequence[StepRow]) -> int:
    """How many rows at the top fold away: steps done, but for the last few, and never the one shown."""
    done = next((place for place, row in enumerate(rows) if not row.is_done or row.is_shown), len(rows))
    return done - KEPT_IN_SIGHT if done > KEPT_IN_SIGHT + 1 else 0


def _row(name: str, one: Operation, stands: RingAtBench, now: datetime, *, is_shown: bool) -> StepRow:
    work = stands.work
    step = work.step(one.key)
    told = []
    if step.figure is not None:
        told.append(measured_words(one, step.figure, stands.ring.reckoning))
    minutes = work.minutes(one.key, now)
    if minutes is not None:
        told.append(f"{max(1, round(minutes))} min")
    if step.is_done:
        told.append(apart(step.done_by))
    if step.reason:
        told.append(apart(step.reason))
    return StepRow(
        name=name,
        note=", ".join(told) if told else opened(one.text),
        href=f"/bench/{stands.order.number}/{stands.ring.position}?step={one.key}#step",
        is_done=step.is_done,
        is_shown=is_shown,
        is_running=work.running is not None and work.running.operation == one.key,
    )
