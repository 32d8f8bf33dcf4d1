"""Open days counted back from a promise."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.open_days import BackPlan, DaysNeeded, DayStep, OpenDays, Part, StudioDays, Work, back_plan

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
    early = date(2026, 12, 1)
    assert back_plan(promised, early, days, Work(is_assayed=True)) == BackPlan(
        date(2026, 12, 8),
        9,
        0,
        (
            DayStep(Part.MAKING, date(2026, 12, 8), date(2026, 12, 10)),
            DayStep(Part.ASSAY, date(2026, 12, 11), date(2026, 12, 16)),
            DayStep(Part.FINISHING, date(2026, 12, 17), date(2026, 12, 17)),
        ),
    )
    assert counted(back_plan(promised, early, days, Work())) == (date(2026, 12, 14), 4, 0)
    late = back_plan(promised, date(2026, 12, 10), days, Work(is_assayed=True))
    assert counted(late) == (date(2026, 12, 8), 9, 2), "the 8th and the 9th are gone"


def counted(plan: BackPlan | None) -> tuple[date, int, int]:
    assert plan is not None
    return plan.begin_by, plan.days, plan.short


def test_setting_engraving_and_plating_count_only_where_they_are_done() -> None:
    """Back from Friday 18 December 2026, closed on Sundays: plating 17, finishing 16, setting 15 and 14,
    engraving 12 and 11, making 10 to 8."""
    days = StudioDays(SUNDAYS, DaysNeeded(making=3, assay=5, finishing=1, setting=2, engraving=2, plating=1))
    promised, early = date(2026, 12, 18), date(2026, 12, 1)
    every = back_plan(promised, early, days, Work(is_engraved=True, is_set=True, is_plated=True))
    assert counted(every) == (date(2026, 12, 8), 9, 0)
    assert every is not None
    assert [(one.part, one.first.day, one.last.day) for one in every.steps] == [
        (Part.MAKING, 8, 10),
        (Part.ENGRAVING, 11, 12),
        (Part.SETTING, 14, 15),
        (Part.FINISHING, 16, 16),
        (Part.PLATING, 17, 17),
    ]
    assert every.beside == (Part.ENGRAVING, Part.SETTING, Part.PLATING)
    assert counted(back_plan(promised, early, days, Work(is_set=True))) == (date(2026, 12, 11), 6, 0)


def test_without_a_word_on_how_long_anything_takes_nothing_is_counted() -> None:
    assert (
        back_plan(date(2026, 12, 18), date(2026, 12, 1), StudioDays(SUNDAYS), Work(is_assayed=True)) is None
    )


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
    plan = back_plan(promised, today, StudioDays(days, DaysNeeded(making=count)), Work())
    assert plan is not None
    assert plan.short == days.between(plan.begin_by, min(max(today, plan.begin_by), promised))
