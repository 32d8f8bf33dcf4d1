"""Days as the studio writes them on paper."""

from datetime import date, datetime

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def short_day(day: date) -> str:
    """'Tue 1 Dec', whatever language the machine speaks."""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def full_day(day: date) -> str:
    """'Tue 1 Dec 2026'."""
    return f"{short_day(day)} {day.year}"


def day_and_hour(moment: datetime) -> str:
    """'Fri 11 Dec, 10:00' in the zone the moment carries."""
    return f"{short_day(moment)}, {moment:%H:%M}"
