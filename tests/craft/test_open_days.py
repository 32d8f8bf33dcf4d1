"""Open days counted back from a promise."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.open_days import BackPlan, DaysNeeded, OpenDays, StudioDays, back_plan

SUNDAYS = OpenDays(frozenset({6}))
DAYS = st.dates(date(2020, 1, 1), date(2040, 1, 1))
OPEN = st.builds(OpenDays, st.frozensets(st.integers(0, 6), max_size=6), st.frozensets(DAYS, max_size=5))


def test_a_closed_day_does_not_count() -> None:
    assert SUNDAYS.before(date(2026, 12, 7), 2) == date(2026, 12, 4)
    assert SUNDAYS.before(date(2026, 12, 7), 0) == date(2026, 12, 7)
    closed = OpenDays(frozenset({6}), frozenset({date(2026, 12, 25), date(2026, 12, 26)}))
    assert closed.before(date(2026, 12, 28), 1) == date(2026, 12, 24)
    assert SUNDAYS.before(date(2027, 1, 2), 2) == date(2026, 12, 31), "over the end of the year"


def test_a_promise_is_counted_back_over_all_its_parts() -> None:
    """Counted by hand on a calendar of December 2026: 17, 16, 15, 14, 12, 11, 10, 9, 8."""
    days = StudioDays(SUNDAYS, DaysNeeded(making=3, assay=5, finishing=1))
    promised = date(2026, 12, 18)
    assert back_plan(promised, date(2026, 12, 1), days, is_assayed=True) == BackPlan(date(2026, 12, 8), 9, 0)
    assert back_plan(promised, date(2026, 12, 1), days, is_assayed=False) == BackPlan(
        date(2026, 12, 14), 4, 0
    )
    late = back_plan(promised, date(2026, 12, 10), days, is_assayed=True)
    assert late == BackPlan(date(2026, 12, 8), 9, 2), "the 8th and the 9th are gone"


def test_without_a_word_on_how_long_anything_takes_nothing_is_counted() -> None:
    assert back_plan(date(2026, 12, 18), date(2026, 12, 1), StudioDays(SUNDAYS), is_assayed=True) is None


def test_a_studio_that_is_always_closed_begins_nothing() -> None:
    with pytest.raises(ValueError, match="open days"):
        OpenDays(frozenset(range(7))).before(date(2026, 12, 7), 1)


@given(OPEN, DAYS, st.integers(1, 60))
def test_between_the_beginning_and_the_promise_lie_just_the_days_it_takes(
    days: OpenDays, promised: date, count: int
) -> None:
    begin = days.before(promised, count)
    assert days.is_open(begin)
    assert begin < promised
    assert days.between(begin, promised) == count


@given(OPEN, DAYS, st.integers(1, 30), st.integers(0, 90))
def test_what_is_short_is_what_was_open_and_is_gone(
    days: OpenDays, promised: date, count: int, ahead: int
) -> None:
    today = promised - timedelta(days=ahead)
    plan = back_plan(promised, today, StudioDays(days, DaysNeeded(making=count)), is_assayed=False)
    assert plan is not None
    assert plan.short == days.between(plan.begin_by, min(max(today, plan.begin_by), promised))
