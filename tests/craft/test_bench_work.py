"""Whatever happens at the bench, in whatever order, reads back to where the ring stands."""

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.bench_work import (
    BenchWork,
    Happened,
    OpenClock,
    What,
    WhyNotNow,
    bench_work,
    goes_on_with,
    next_step,
    passed_over,
    why_not_now,
)
from studio.craft.operations import Operation

BEGAN = datetime(2026, 12, 1, 8, 0, tzinfo=UTC)
ROUTE = tuple(Operation(key, key.capitalize(), "") for key in ("weigh", "saw", "square", "bend"))
KEYS = [one.key for one in ROUTE]


@dataclass
class Tried:
    """One thing somebody wants to do, some seconds after the last."""

    what: What
    key: str
    wait_s: int
    figure: float | None
    minutes: int | None
    by: str


TRIED = st.builds(
    Tried,
    st.sampled_from(list(What)),
    st.sampled_from(KEYS),
    st.integers(0, 5000),
    st.none() | st.floats(1, 90).map(lambda mm: round(mm, 2)),
    st.none() | st.integers(1, 300),
    st.sampled_from(["Bas", "Tilde"]),
)


@dataclass
class Model:
    """The ring as a child would keep it: plain dictionaries, and a pile of what they were before."""

    done: dict[str, str] = field(default_factory=dict)
    figures: dict[str, float] = field(default_factory=dict)
    typed: dict[str, int] = field(default_factory=dict)
    ran: dict[str, float] = field(default_factory=dict)
    clock: tuple[str, datetime, str] | None = None

    def copy(self) -> "Model":
        return Model(dict(self.done), dict(self.figures), dict(self.typed), dict(self.ran), self.clock)

    def stop(self, at: datetime) -> None:
        if self.clock is not None:
            key, since, _ = self.clock
            self.ran[key] = self.ran.get(key, 0.0) + (at - since).total_seconds()
            self.clock = None

    def after(self, one: Happened) -> "Model":
        new = self.copy()
        if one.figure is not None:
            new.figures[one.operation] = one.figure
        if one.minutes is not None:
            new.typed[one.operation] = one.minutes
        is_its = new.clock is not None and new.clock[0] == one.operation
        if one.what is What.STARTED:
            new.stop(one.at)
            new.clock = (one.operation, one.at, one.by)
        elif one.what is What.STOPPED:
            new.stop(one.at)
        elif one.what is What.DONE:
            new.done[one.operation] = one.by
            if is_its:
                new.stop(one.at)
            if one.then:
                new.clock = (one.then, one.at, one.by)
        elif one.what is What.REOPENED:
            del new.done[one.operation]
        return new


def played(tries: list[Tried]) -> tuple[list[Happened], list[Model], list[BenchWork]]:
    """What really happened of all that was tried, the models piled up, and each state that was read."""
    rows: list[Happened] = []
    models, states = [Model()], [bench_work([])]
    standing: list[Happened] = []
    at = BEGAN
    for one in tries:
        work = bench_work(rows)
        at += timedelta(seconds=one.wait_s)
        if why_not_now(work, one.what, one.key, ROUTE) is not None:
            continue
        is_undo = one.what is What.UNDONE
        can_tell = not is_undo
        made = Happened(
            len(rows) + 1,
            one.what,
            work.last.operation if is_undo and work.last else one.key,
            at,
            one.by,
            one.figure if can_tell else None,
            one.minutes if can_tell else None,
            goes_on_with(work, ROUTE, one.key) if one.what is What.DONE else "",
            undoes=work.last.serial if is_undo and work.last else None,
        )
        rows.append(made)
        if is_undo:
            models.pop()
            standing.pop()
        else:
            models.append(models[-1].copy().after(made))
            standing.append(made)
        states.append(bench_work(rows))
    return rows, models, states


@given(st.lists(TRIED, max_size=25))
def test_a_history_reads_back_to_what_a_simple_model_keeps(tries: list[Tried]) -> None:
    rows, models, _ = played(tries)
    work, model = bench_work(rows), models[-1]
    for key in KEYS:
        step = work.step(key)
        assert step.is_done == (key in model.done)
        assert step.done_by == model.done.get(key, "")
        assert step.figure == model.figures.get(key)
        assert step.minutes == model.typed.get(key)
        assert step.seconds == pytest.approx(model.ran.get(key, 0.0))
    assert work.running == (None if model.clock is None else OpenClock(*model.clock))
    assert work.version == len(rows)
    undone = next_step(work, ROUTE)
    assert (undone.key if undone else None) == next((key for key in KEYS if key not in model.done), None)


@given(st.lists(TRIED, max_size=20), TRIED)
def test_undo_gives_back_exactly_the_state_before(tries: list[Tried], one: Tried) -> None:
    rows, _, states = played(tries)
    more, _, _ = played([*tries, one])
    if len(more) == len(rows) or more[-1].what is What.UNDONE:
        return
    last = more[-1]
    undo = Happened(
        last.serial + 1,
        What.UNDONE,
        last.operation,
        last.at + timedelta(minutes=3),
        "Bas",
        undoes=last.serial,
    )
    assert replace(bench_work([*more, undo]), version=0) == replace(states[-1], version=0)


@given(st.lists(TRIED, max_size=25), st.integers(0, 4000))
def test_minutes_close(tries: list[Tried], wait_s: int) -> None:
    """The clocks of the steps together show the time in which any clock ran, the open one with it."""
    rows, models, _ = played(tries)
    now = (rows[-1].at if rows else BEGAN) + timedelta(seconds=wait_s)
    work, model = bench_work(rows), models[-1]
    model.stop(now)
    assert sum(work.seconds(key, now) for key in KEYS) == pytest.approx(sum(model.ran.values()))
    for key in KEYS:
        told = work.minutes(key, now)
        if key in model.typed:
            assert told == model.typed[key]
        elif model.ran.get(key, 0.0) > 0:
            assert told == pytest.approx(model.ran[key] / 60)
        else:
            assert told is None


def happened(*told: tuple[What, str, int]) -> list[Happened]:
    """Rows in turn, each so many minutes after eight."""
    return [
        Happened(serial, what, key, BEGAN + timedelta(minutes=minute), "Bas")
        for serial, (what, key, minute) in enumerate(told, 1)
    ]


def test_the_clock_of_another_step_stops_the_one_that_runs() -> None:
    work = bench_work(happened((What.STARTED, "weigh", 0), (What.STARTED, "saw", 4)))
    assert work.step("weigh").seconds == 240
    assert work.running == OpenClock("saw", BEGAN + timedelta(minutes=4), "Bas")
    assert work.minutes("saw", BEGAN + timedelta(minutes=10)) == 6


def test_a_tick_lets_a_running_clock_go_on_with_the_next_step() -> None:
    work = bench_work(happened((What.STARTED, "weigh", 0)))
    assert goes_on_with(work, ROUTE, "weigh") == "saw"
    assert goes_on_with(work, ROUTE, "saw") == ""
    assert goes_on_with(bench_work([]), ROUTE, "weigh") == ""


def test_steps_that_are_passed_over_are_named_in_order() -> None:
    work = bench_work(happened((What.DONE, "weigh", 1)))
    assert [one.key for one in passed_over(work, ROUTE, "bend")] == ["saw", "square"]
    assert passed_over(work, ROUTE, "saw") == ()


@pytest.mark.parametrize(
    ("told", "what", "key", "why"),
    [
        ([], What.DONE, "plate", WhyNotNow.NO_SUCH_STEP),
        ([(What.DONE, "saw", 0)], What.DONE, "saw", WhyNotNow.DONE_ALREADY),
        ([], What.REOPENED, "saw", WhyNotNow.NOT_DONE),
        ([(What.STARTED, "saw", 0)], What.STARTED, "saw", WhyNotNow.RUNS_ALREADY),
        ([(What.STARTED, "saw", 0)], What.STOPPED, "bend", WhyNotNow.NOT_RUNNING),
        ([], What.UNDONE, "", WhyNotNow.NOTHING_TO_UNDO),
        ([(What.DONE, "saw", 0)], What.REOPENED, "saw", None),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(
    told: list[tuple[What, str, int]], what: What, key: str, why: WhyNotNow | None
) -> None:
    assert why_not_now(bench_work(happened(*told)), what, key, ROUTE) is why


def test_a_computer_s_clock_that_was_set_back_takes_no_time_off() -> None:
    work = bench_work(happened((What.STARTED, "saw", 30), (What.STOPPED, "saw", 10)))
    assert work.step("saw").seconds == 0
