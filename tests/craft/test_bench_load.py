"""The hours of the bench: clocks cut at the weeks, typed minutes before them, what was undone left out."""

from datetime import UTC, date, datetime, timedelta

import pytest

from studio.craft.bench_load import PlannedRing, WeekLoad, usual_minutes, week_loads
from studio.craft.bench_work import Happened, What, spells

SUNDAY = datetime(2026, 11, 29, 23, 0, tzinfo=UTC)
MIDNIGHT = datetime(2026, 11, 30, tzinfo=UTC)
WEEK = timedelta(days=7)
MONDAY = date(2026, 11, 23)


def one(serial: int, what: What, operation: str, hours: float, **told: object) -> Happened:
    at = SUNDAY + timedelta(hours=hours)
    return Happened(serial, what, operation, at, "Bas", **told)  # type: ignore[arg-type]  # handed on


def minutes(happened: list[Happened], now_hours: float = 20) -> tuple[float, float]:
    """The minutes of the week that ends at midnight, and of the one that begins there."""
    worked = spells(happened, SUNDAY + timedelta(hours=now_hours))
    before = sum(spell.minutes_between(MIDNIGHT - WEEK, MIDNIGHT) for spell in worked)
    return before, sum(spell.minutes_between(MIDNIGHT, MIDNIGHT + WEEK) for spell in worked)


def test_a_clock_over_midnight_on_sunday_is_in_both_weeks() -> None:
    assert minutes([one(1, What.STARTED, "saw", 0), one(2, What.DONE, "saw", 1.5)]) == (60, 30)


def test_a_clock_that_runs_has_run_until_now() -> None:
    assert minutes([one(1, What.STARTED, "saw", 0)], now_hours=3) == (60, 120)


def test_typed_minutes_take_the_place_of_the_clock_where_they_were_typed() -> None:
    happened = [
        one(1, What.STARTED, "saw", 0), one(2, What.DONE, "saw", 1.5, minutes=25, then="bend"),
        one(3, What.DONE, "bend", 2),
    ]  # fmt: skip
    assert minutes(happened) == (0, 25 + 30)


def test_what_was_undone_has_no_minutes() -> None:
    happened = [
        one(1, What.NOTED, "saw", 0, minutes=40), one(2, What.NOTED, "bend", 0, minutes=12),
        one(3, What.UNDONE, "bend", 1, undoes=2),
    ]  # fmt: skip
    assert minutes(happened) == (40, 0)


def test_the_weeks_hold_every_ring_of_their_days_and_no_other() -> None:
    days = [MONDAY + timedelta(days=place) for place in range(-1, 15)]
    rings = [PlannedRing(f"2026-{place}/1", day, 60.0 + place, place % 2) for place, day in enumerate(days)]
    found = week_loads([MONDAY, MONDAY + WEEK], rings, [90.0, None])
    assert found == (
        WeekLoad(MONDAY, 7, sum(60 + place for place in range(1, 8)), 90.0, 4),
        WeekLoad(MONDAY + WEEK, 7, sum(60 + place for place in range(8, 15)), None, 3),
    )


@pytest.mark.parametrize(
    ("noted", "usual"), [((600, 0, 660, 540), 600), ((600, 0, 0, 540), None), ((600, 700, 800, 900), 750)]
)
def test_usual_is_the_mean_of_three_weeks_or_more_that_have_any(
    noted: tuple[int, ...], usual: float | None
) -> None:
    weeks = [WeekLoad(MONDAY + WEEK * place, 0, 0.0, float(told)) for place, told in enumerate(noted)]
    this = MONDAY + WEEK * len(noted)
    assert usual_minutes([*weeks, WeekLoad(this, 0, 0.0, 6000.0)], this) == usual
