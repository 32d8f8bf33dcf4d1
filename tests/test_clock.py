"""Days and weeks, where the studio is."""

from datetime import UTC, date, datetime, timedelta

import pytest

from studio import clock, resources


@pytest.mark.parametrize(
    ("moment", "zone", "day"),
    [
        (datetime(2026, 12, 31, 23, 30, tzinfo=UTC), "Europe/London", date(2026, 12, 31)),
        (datetime(2026, 12, 31, 23, 30, tzinfo=UTC), "Europe/Berlin", date(2027, 1, 1)),
        (datetime(2026, 7, 1, 23, 30, tzinfo=UTC), "Europe/London", date(2026, 7, 2)),
        (datetime(2026, 10, 25, 0, 30, tzinfo=UTC), "Europe/London", date(2026, 10, 25)),
        (datetime(2026, 10, 25, 1, 30, tzinfo=UTC), "Europe/London", date(2026, 10, 25)),
        (datetime(2028, 2, 29, 12, 0, tzinfo=UTC), "Pacific/Kiritimati", date(2028, 3, 1)),
    ],
    ids=["new year's eve", "further east", "summer time", "half past one", "half past one again", "leap day"],
)
def test_the_day_of_a_moment_is_the_studios(moment: datetime, zone: str, day: date) -> None:
    assert clock.day_of(moment, zone) == day


@pytest.mark.parametrize(
    ("day", "zone", "hour"),
    [(date(2026, 7, 1), "Europe/London", -1), (date(2026, 12, 1), "Europe/London", 0),
     (date(2026, 10, 26), "America/New_York", 4)],
)  # fmt: skip
def test_a_day_begins_where_the_studio_is(day: date, zone: str, hour: int) -> None:
    midnight = datetime(day.year, day.month, day.day, tzinfo=UTC)
    assert clock.day_begins(day, zone) == midnight + timedelta(hours=hour)
    assert clock.day_of(clock.day_begins(day, zone) - timedelta(seconds=1), zone) == day - timedelta(days=1)


def test_this_moment_knows_its_zone() -> None:
    assert clock.now().tzinfo is UTC
    assert abs(clock.now() - datetime.now(UTC)) < timedelta(minutes=1)
    assert clock.today("UTC") == clock.day_of(clock.now(), "UTC")


@pytest.mark.parametrize("ahead", range(7))
def test_a_week_starts_on_its_monday(ahead: int) -> None:
    monday = date(2026, 12, 28)
    assert clock.monday_of(monday + timedelta(days=ahead)) == monday


def test_what_the_program_reads_is_where_it_looks() -> None:
    for folder in (resources.templates_dir(), resources.static_dir(), resources.migrations_dir()):
        assert folder.is_dir()
    assert len(resources.font_files()) == 3
    assert all(path.read_bytes()[:4] == b"\x00\x01\x00\x00" for path in resources.font_files())
