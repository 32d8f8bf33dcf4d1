"""Where a thing lies and how far it has come, told by records alone."""

from datetime import UTC, date, datetime, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.bench_work import Happened, What, bench_work
from studio.craft.operations import Does, Operation
from studio.craft.orders import State
from studio.craft.outwork import days_over, weight_lost_mg
from studio.craft.whereabouts import Lies, Out, Progress, PutDown, Standing, lies, standing

NOW = datetime(2026, 11, 25, 10, 0, tzinfo=UTC)


ROUTE = (
    Operation("saw", "Saw it off,", ""),
    Operation("bend", "Bend it", ""),
    Operation("close", "Close the seam", "", does=frozenset({Does.CLOSES})),
    Operation("file", "File the seam", ""),
    Operation("polish", "Polish", ""),
)
KEYS = [one.key for one in ROUTE]


def ticked(*keys: str, then: str = "") -> tuple[Happened, ...]:
    done = [Happened(n, What.DONE, key, NOW, "Ina") for n, key in enumerate(keys, 1)]
    if then:
        done.append(Happened(len(done) + 1, What.STARTED, then, NOW, "Ina"))
    return tuple(done)


@pytest.mark.parametrize(
    ("state", "progress"),
    [
        (State.DRAFT, Progress.DRAFT),
        (State.QUOTED, Progress.QUOTED),
        (State.AGREED, Progress.AGREED),
        (State.READY, Progress.READY),
        (State.HANDED_OVER, Progress.HANDED_OVER),
        (State.CALLED_OFF, Progress.CALLED_OFF),
    ],
)
def test_away_from_the_bench_the_orders_state_says_it(state: State, progress: Progress) -> None:
    assert standing(state, bench_work(ticked("saw")), ROUTE) == Standing(progress)


@pytest.mark.parametrize(
    ("done", "wanted"),
    [
        (0, Standing(Progress.NOT_BEGUN, "Saw it off")),
        (1, Standing(Progress.OPEN, "Bend it")),
        (2, Standing(Progress.OPEN, "Close the seam")),
        (3, Standing(Progress.CLOSED, "File the seam")),
        (4, Standing(Progress.CLOSED, "Polish")),
        (5, Standing(Progress.MADE)),
    ],
)
def test_at_the_bench_the_ticks_say_it(done: int, wanted: Standing) -> None:
    assert standing(State.AT_THE_BENCH, bench_work(ticked(*KEYS[:done])), ROUTE) == wanted


def test_it_is_closed_though_a_step_before_was_passed_over() -> None:
    told = standing(State.AT_THE_BENCH, bench_work(ticked("saw", "close")), ROUTE)
    assert told == Standing(Progress.CLOSED, "Bend it")


def test_a_clock_that_runs_says_the_step_and_whose_it_is() -> None:
    told = standing(State.AT_THE_BENCH, bench_work(ticked(then="bend")), ROUTE)
    assert told == Standing(Progress.OPEN, "Bend it", "Ina")


places = st.lists(st.sampled_from(["safe, tray 2", "bench of Ina", ""]), max_size=6)


@given(
    places,
    st.sampled_from([None, Out("2026-1-w1", "Hale, setter", NOW, "Ivo")]),
    st.randoms(use_true_random=False),
)
def test_a_thing_lies_in_one_place_the_latest_or_with_whoever_holds_it(
    names: list[str], out: Out | None, chance: Random
) -> None:
    rows = [PutDown(n, name, NOW + timedelta(hours=n), "Ivo") for n, name in enumerate(names, 1)]
    shuffled = list(rows)
    chance.shuffle(shuffled)
    found = lies(shuffled, out)
    if out is not None:
        assert found == Lies("Hale, setter", NOW, "Ivo", "2026-1-w1")
    elif rows:
        assert found == Lies(names[-1], rows[-1].at, "Ivo")
    else:
        assert found == Lies()
    assert found.is_out is (out is not None)


@pytest.mark.parametrize(("days", "over"), [(-1, 0), (0, 0), (1, 1), (40, 40)])
def test_work_is_overdue_from_the_day_after(days: int, over: int) -> None:
    due = date(2026, 12, 30)
    assert days_over(due, due + timedelta(days=days)) == over


def test_what_was_lost_outside_is_told_where_both_were_weighed() -> None:
    assert weight_lost_mg(2140, 2100) == 40
    assert weight_lost_mg(2140, 2160) == -20
    assert weight_lost_mg(2140, None) is weight_lost_mg(None, 2140) is None
