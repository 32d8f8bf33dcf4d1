"""Days as the studio writes them, whatever language the machine speaks."""

from datetime import date, datetime

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def day_words(day: date, *, today: date | None = None) -> str:
    """A day as it is said: 'Tue 1 Dec'; with `today` in another year, 'Tue 1 Dec 2026'."""
    year = f" {day.year}" if today is not None and day.year != today.year else ""
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1][:3]}{year}"


def full_day_words(day: date) -> str:
    """A day with its year: 'Sat 19 Dec 2026'."""
    return f"{day_words(day)} {day.year}"


def day_and_hour(moment: datetime) -> str:
    """'Fri 11 Dec, 10:00' in the zone the moment carries."""
    return f"{day_words(moment)}, {moment:%H:%M}"
