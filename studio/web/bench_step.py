"""The step of a ring that is shown large at the bench, and what comes after it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from studio.book.bench_work import RingAtBench
from studio.craft.bench_figures import figure_label, measures, target
from studio.craft.bench_work import BenchWork, passed_over
from studio.craft.drawing import BenchCut, Svg, bench_drawing, piece_at
from studio.craft.operations import Operation
from studio.craft.units import figure_words
from studio.web.bench_words import clock_words, step_name
from studio.web.sent_back import Said
from studio.web.wording import opened


@dataclass(frozen=True, slots=True)
class StepPart:
    """The step that is shown large. `reason_label` is '' where no reason is asked; `seconds` is the clock's.

    `starts` is the act of the second button: start, or pause while the clock runs.
    """

    key: str
    place: str
    name: str
    text: str
    cautions: str
    check: str
    wide: Svg
    narrow: Svg
    figure_label: str
    unit: str
    figure: str
    figure_note: str
    minutes: str
    seconds: int
    clock: str
    clock_note: str
    is_running: bool
    is_done: bool
    reason_label: str
    reason: str

    @property
    def tick_words(self) -> str:
        """What the first button says."""
        return "Put it right" if self.is_done else "Done, next"


@dataclass(frozen=True, slots=True)
class NextPart:
    """What comes after the step that is shown: its name, how it begins, and its cautions."""

    name: str
    text: str
    cautions: str


def step_part(one: Operation, stands: RingAtBench, now: datetime, said: Said) -> StepPart:
    """The step, with what was noted and what was typed and refused; the clock stands as at `now`."""
    work = stands.work
    step = work.step(one.key)
    place = next(place for place, other in enumerate(stands.operations, 1) if other.key == one.key)
    piece = piece_at(one, stands.operations)
    reckoning = stands.ring.reckoning
    seconds = round(work.seconds(one.key, now))
    typed = said.typed
    wanted = target(one, reckoning)
    unit = one.measure.unit if one.measure is not None else ""
    return StepPart(
        key=one.key,
        place=f"Step {place} of {len(stands.operations)}",
        name=step_name(one),
        text=opened(one.text),
        cautions=" ".join((*one.cautions, *one.also)),
        check=one.check,
        wide=bench_drawing(reckoning, piece, BenchCut.WIDE),
        narrow=bench_drawing(reckoning, piece, BenchCut.NARROW),
        figure_label="" if measures(one) is None else figure_label(one),
        unit=unit,
        figure=typed.get("figure", "" if step.figure is None else figure_words(step.figure)),
        figure_note="" if wanted is None else f"To come to {figure_words(wanted)} {unit}",
        minutes=typed.get("minutes", "" if step.minutes is None else str(step.minutes)),
        seconds=seconds,
        clock=clock_words(seconds),
        clock_note="" if one.minutes is None else f"planned {round(one.minutes)} min",
        is_running=work.running is not None and work.running.operation == one.key,
        is_done=step.is_done,
        reason_label=_reason_label(one, stands.operations, work),
        reason=typed.get("reason", ""),
    )


def next_part(shown: Operation | None, stands: RingAtBench) -> NextPart | None:
    """The next step that is not done after the one shown."""
    if shown is None:
        return None
    keys = [one.key for one in stands.operations]
    after = stands.operations[keys.index(shown.key) + 1 :]
    found = next((one for one in after if not stands.work.is_done(one.key)), None)
    if found is None:
        return None
    return NextPart(step_name(found), found.text, " ".join((*found.cautions, *found.also)))


def _reason_label(one: Operation, operations: Sequence[Operation], work: BenchWork) -> str:
    if work.is_done(one.key):
        return "Why it is not done after all"
    over = passed_over(work, operations, one.key)
    return f"'{step_name(over[0])}' is not done yet. Why is this done first?" if over else ""
