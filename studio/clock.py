"""The one place that reads the time."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo


def now() -> datetime:
    """This moment in UTC, with its zone."""
    return datetime.now(UTC)


def day_of(moment: datetime, zone: str) -> date:
    """The calendar day `moment` falls on in `zone` ('Europe/London').

    Half past eleven at night in UTC on 31 December is 31 December in London and 1 January in Berlin.
    """
    return moment.astimezone(ZoneInfo(zone)).date()


def today(zone: str) -> date:
    """Today's date in `zone`."""
    return day_of(now(), zone)


def monday_of(day: date) -> date:
    """The Monday of the week `day` lies in: 2026-11-29, a Sunday, gives 2026-11-23."""
    return day - timedelta(days=day.weekday())


def day_begins(day: date, zone: str) -> datetime:
    """The moment `day` begins in `zone`, in UTC: 1 July 2026 in London begins at 23:00 on 30 June."""
    return datetime.combine(day, time(), ZoneInfo(zone)).astimezone(UTC)
