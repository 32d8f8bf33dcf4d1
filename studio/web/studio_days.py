"""The studio's closed days and the days its rings take, as typed and as shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from studio.book.studio import Studio
from studio.craft.open_days import MOST_DAYS
from studio.papers.days import WEEKDAYS
from studio.web.amounts import read_count
from studio.web.days import full_day_words, read_date
from studio.web.errors import FieldError, FieldErrors
from studio.web.forms import long_text, short_text
from studio.web.reading import Reading

MOST_CLOSED = 200
LONGEST_CLOSED = 8_000
DAYS_WORDS = {
    "closed_weekdays": "Closed every",
    "closed_on": "Closed on",
    "making_days": "Making",
    "assay_days": "Assay, there and back",
    "finishing_days": "Finishing",
    "setting_days": "Setting stones",
    "engraving_days": "Engraving by others",
    "plating_days": "Plating by others",
}
"""The fields and their words."""
_NUMBERS = (
    "making_days",
    "assay_days",
    "finishing_days",
    "setting_days",
    "engraving_days",
    "plating_days",
)


@dataclass(frozen=True, slots=True)
class DaysTyped:
    """The days as they are kept."""

    closed_weekdays: str
    closed_on: str
    making_days: int
    assay_days: int
    finishing_days: int
    setting_days: int
    engraving_days: int
    plating_days: int


def days_texts(facts: Studio) -> dict[str, str]:
    """What stands, as the form's fields show it: 'Sunday, Monday'; a closed day a line."""
    weekdays = [WEEKDAYS[int(digit)] for digit in facts.closed_weekdays]
    dates = [full_day_words(date.fromisoformat(line)) for line in facts.closed_on.splitlines()]
    numbers = {name: str(getattr(facts, name) or "") for name in _NUMBERS}
    return {"closed_weekdays": ", ".join(weekdays), "closed_on": "\n".join(dates)} | numbers


def read_days(raw: Mapping[str, object], today: date) -> DaysTyped:
    """The days as typed; raises `FieldErrors` with all that is to be put right."""
    asked = Reading(raw, "")
    weekdays = asked.read("closed_weekdays", read_weekdays)
    closed = asked.read("closed_on", lambda value, field: _read_closed(value, field, today))
    reader = read_count(0, MOST_DAYS, "day", "days")
    numbers = {name: (asked.read(name, reader) if asked.has(name) else 0) or 0 for name in _NUMBERS}
    asked.stop()
    return DaysTyped(weekdays or "", closed or "", **numbers)


def read_weekdays(value: object, field: str) -> str:
    """Weekdays by their names or how they begin, as digits from Monday: 'Sun, mon' gives '06'."""
    found: set[int] = set()
    for word in short_text(value, field).replace(",", " ").split():
        meant = [at for at, name in enumerate(WEEKDAYS) if name.lower().startswith(word.lower())]
        if len(word) < 2 or len(meant) != 1:
            raise FieldErrors([FieldError(field, f"{word[:20]} is no weekday. Type it like Sunday.")])
        found.add(meant[0])
    if len(found) == len(WEEKDAYS):
        raise FieldErrors([FieldError(field, "Closed every day? Leave one open.")])
    return "".join(str(at) for at in sorted(found))


def _read_closed(value: object, field: str, today: date) -> str:
    """One day a line, in any of the ways a day is typed; kept in order, each once."""
    lines = [line for line in long_text(LONGEST_CLOSED)(value, field).splitlines() if line.strip()]
    if len(lines) > MOST_CLOSED:
        raise FieldErrors([FieldError(field, f"At most {MOST_CLOSED} days have room. Leave past ones out.")])
    days = {read_date(line, field, today=today) for line in lines}
    return "\n".join(day.isoformat() for day in sorted(day for day in days if day is not None))
