"""Days and moments, as they are typed and as they are said."""

import re
import unicodedata
from calendar import monthrange
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from studio.papers.days import MONTHS, WEEKDAYS, day_words, full_day_words
from studio.web.errors import FieldError, FieldErrors

__all__ = [
    "HourUnclear", "day_words", "full_day_words", "moment_words", "read_date", "read_exact_moment",
    "read_moment", "week_end",
]  # fmt: skip

MAX_TYPED = 40
_MONTHS = tuple(name[:3].lower() for name in MONTHS)
_WEEKDAYS = tuple(name[:3].lower() for name in WEEKDAYS)
_FIRST_YEAR, _LAST_YEAR = 2000, 2100
_WEEKDAY = r"(?:(?P<weekday>[a-z]{3,9})\.?,?\s+)?"
_PATTERNS = tuple(
    re.compile(pattern)
    for pattern in (
        r"(?P<year>\d{4})-(?P<month>\d{1,2})-(?P<day>\d{1,2})",
        _WEEKDAY + r"(?P<day>\d{1,2})\s*[./-]\s*(?P<month>\d{1,2})(?:\s*[./-]\s*(?P<year>\d{4}|\d{2})?)?",
        _WEEKDAY
        + r"(?P<day>\d{1,2})(?:st|nd|rd|th|\.)?\s*(?P<name>[a-z]{3,9})\.?,?(?:\s*(?P<year>\d{4}|\d{2}))?",
    )
)
_TIME = re.compile(
    r"(?P<rest>.*?)[\s,T]+(?:at\s+)?(?P<hour>\d{1,2})(?::(?P<minute>\d{2}))?\s*(?P<half>am|pm)?",
    re.IGNORECASE,
)

_EXACT = re.compile(r"\d{4}-\d{2}-\d{2}[Tt]\d")


class HourUnclear(FieldErrors):
    """The studio's clock shows the hour never or twice on that day, as it is changed then."""


def moment_words(moment: datetime, zone: str) -> str:
    """A moment in the studio's time: 'Thu 26 Nov 2026, 14:05'."""
    local = moment.astimezone(ZoneInfo(zone))
    return f"{full_day_words(local.date())}, {local:%H:%M}"


def read_date(typed: object, field: str, *, today: date) -> date | None:
    """The day meant by what was typed, day before month; None for an empty field.

    '2027-03-27', '27/3', '27.3.', '27 Mar', 'Sat 19 Dec 2026'. Without a year it is the next such day from
    `today` on. Raises `FieldErrors` for 31 February and whatever else is no day.
    """
    text = _plain(typed, field)
    if not text:
        return None
    for pattern in _PATTERNS:
        if found := pattern.fullmatch(text):
            return _day(found.groupdict(), field, today)
    raise _asks(field, "Which day is meant? Type it like 27 Mar or 27/3/2027.")


def read_moment(typed: object, field: str, *, today: date, zone: str) -> datetime | None:
    """The moment meant, in UTC; None for an empty field. A day without an hour is its noon.

    'Fri 11 Dec 10:00' and '2026-12-11T10:00' are the studio's time, '2026-12-11T10:00:00Z' is what it says.
    Raises `FieldErrors`, and `HourUnclear` for an hour that the change of the clocks leaves out or doubles.
    """
    text = _plain(typed, field)
    if not text:
        return None
    if re.match(r"\d{4}-\d{2}-\d{2}t\d", text):
        try:
            exact = datetime.fromisoformat(text.upper())
        except ValueError:
            raise _asks(field, "Which day and hour is meant? Type it like Fri 11 Dec 10:00.") from None
        _check_year(exact.year, field)
        return exact.astimezone(UTC) if exact.tzinfo else _in_utc(exact, field, zone)
    found = _TIME.fullmatch(text)
    hour = _hour(found.groupdict(), field) if found and (found["minute"] or found["half"]) else None
    day = read_date(found["rest"] if found and hour is not None else text, field, today=today)
    if day is None:
        raise _asks(field, "Which day is meant? Type it like Fri 11 Dec 10:00.")
    return _in_utc(datetime.combine(day, hour or time(12)), field, zone)


def read_exact_moment(value: object, field: str) -> datetime | None:
    """The moment a program means, in UTC; None where nothing is given.

    It is written to the letter, with Z or its distance from UTC: '2026-12-11T10:00:00Z'. A moment without
    either would be another one in another place; raises `FieldErrors` for it.
    """
    if value is None or value == "":
        return None
    text = value.strip() if isinstance(value, str) else ""
    try:
        exact = datetime.fromisoformat(text.upper()) if _EXACT.match(text) else None
    except ValueError:
        exact = None
    if exact is None or exact.tzinfo is None:
        raise _asks(field, "Which moment is meant? Write it with its Z, like 2026-12-11T10:00:00Z.")
    _check_year(exact.year, field)
    return exact.astimezone(UTC)


def _in_utc(local: datetime, field: str, zone: str) -> datetime:
    """A moment on the studio's clock in UTC; raises `HourUnclear` where the clock shows it never or twice."""
    before = local.replace(tzinfo=ZoneInfo(zone), fold=0)
    after = before.replace(fold=1)
    if before.utcoffset() == after.utcoffset():
        return before.astimezone(UTC)
    is_skipped = before.astimezone(UTC).astimezone(ZoneInfo(zone)).replace(tzinfo=None) != local
    what = "is left out, the clocks go forward over it" if is_skipped else "comes twice, the clocks go back"
    words = f"On {day_words(local.date())} the hour {local:%H:%M} {what}. Which other hour is meant?"
    raise HourUnclear([FieldError(field, words)])


def _plain(typed: object, field: str) -> str:
    """The typed text in small letters and plain digits."""
    if typed is None:
        return ""
    if isinstance(typed, datetime | date):
        return typed.isoformat().lower()
    if not isinstance(typed, str):
        raise _asks(field, "Which day is meant? Type it like 27 Mar or 27/3/2027.")
    text = unicodedata.normalize("NFKC", typed).strip().lower()
    if len(text) > MAX_TYPED:
        raise _asks(field, "This is too long for a day. Type it like 27 Mar or 27/3/2027.")
    return re.sub(r"\s+", " ", text)


def _day(parts: dict[str, str | None], field: str, today: date) -> date:
    weekday, name, typed_year = parts.get("weekday"), parts.get("name"), parts.get("year")
    month = _month(name, field) if name else int(parts.get("month") or 0)
    day = int(parts["day"] or 0)
    if not 1 <= month <= 12:
        raise _asks(field, f"There is no month {month}. The day comes first, as in 27/3.")
    year = _guessed_year(day, month, today) if typed_year is None else int(typed_year)
    year += 2000 if typed_year is not None and len(typed_year) == 2 else 0
    _check_year(year, field)
    last = monthrange(year, month)[1]
    if not 1 <= day <= last:
        end = date(year, month, last)
        raise _asks(field, f"{end:%B %Y} ends on {end:%A} the {_ordinal(last)}. Which day is meant?")
    meant = date(year, month, day)
    if weekday is not None:
        _check_weekday(weekday, meant, field)
    return meant


def _guessed_year(day: int, month: int, today: date) -> int:
    """This year, or the next if the day is past; 29 February waits for its leap year."""
    if (month, day) == (2, 29):
        year = today.year + ((month, day) < (today.month, today.day))
        return next(leap for leap in range(year, year + 9) if monthrange(leap, 2)[1] == 29)
    return today.year + ((month, day) < (today.month, today.day))


def _check_year(year: int, field: str) -> None:
    if not _FIRST_YEAR <= year <= _LAST_YEAR:
        raise _asks(field, f"The year {year:04d} is not one we plan in. Which day is meant?")


def _check_weekday(typed: str, meant: date, field: str) -> None:
    if typed[:3] not in _WEEKDAYS or not f"{meant:%A}".lower().startswith(typed[:3]):
        raise _asks(field, f"{meant.day} {meant:%B %Y} is a {meant:%A}. Which day is meant?")


def _month(name: str, field: str) -> int:
    for number, start in enumerate(_MONTHS, 1):
        full = f"{date(2000, number, 1):%B}".lower()
        if full.startswith(name) or name == f"{start}t":
            return number
    raise _asks(field, "Which month is meant? Type the day like 27 Mar or 27/3/2027.")


def _hour(parts: dict[str, str | None], field: str) -> time:
    hour, minute, half = int(parts["hour"] or 0), int(parts["minute"] or 0), parts["half"]
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half.lower() == "pm" else 0)
    if hour > 23 or minute > 59:
        raise _asks(field, "Which hour is meant? Type it like Fri 11 Dec 10:00.")
    return time(hour, minute)


def _ordinal(day: int) -> str:
    return f"{day}{'th' if 10 < day < 20 else {1: 'st', 2: 'nd', 3: 'rd'}.get(day % 10, 'th')}"


def _asks(field: str, message: str) -> FieldErrors:
    return FieldErrors([FieldError(field, message)])


def week_end(monday: date) -> date:
    """The Sunday of the week that begins on `monday`."""
    return monday + timedelta(days=6)
