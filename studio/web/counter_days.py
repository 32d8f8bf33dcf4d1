"""The days of an order as typed at the counter, and what to beware of in them."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from studio.web.counter_page import Notes, Warned
from studio.web.days import day_words
from studio.web.errors import FieldError, FieldErrors, Findings
from studio.web.forms import Calendar


def read_promised(day_typed: str, hour_typed: str, calendar: Calendar) -> datetime | None:
    """The promised moment in UTC out of its day and its hour; a day alone is its noon.

    '11 Dec' and '10' are ten o'clock of the studio's time on the next 11 December. Raises `FieldErrors` at
    `promised_on` or `promised_hour`.
    """
    day = calendar.day(day_typed, "promised_on")
    hour = hour_typed.strip()
    if day is None:
        if hour:
            raise FieldErrors([FieldError("promised_on", "On which day? Only the hour is given.")])
        return None
    hour = f"{hour}:00" if hour.isascii() and hour.isdigit() else hour.replace(".", ":")
    try:
        return calendar.moment(f"{day.isoformat()} {hour}".strip(), "promised_hour")
    except FieldErrors:
        raise FieldErrors([FieldError("promised_hour", "Which hour? Type it like 10:00.")]) from None


def day_notes(wanted_typed: str, promised: tuple[str, str], bench_typed: str, calendar: Calendar) -> Notes:
    """Warnings of days that cannot all be kept: wanted in the past, promised after it, made after that.

    They refuse nothing. A day that cannot be read yet warns of nothing.
    """
    found = Findings()
    wanted = found.take(lambda: calendar.day(wanted_typed, "wanted_on"))
    bench = found.take(lambda: calendar.day(bench_typed, "bench_on"))
    moment = found.take(lambda: read_promised(*promised, calendar))
    promise = None if moment is None else moment.astimezone(ZoneInfo(calendar.zone)).date()
    last = promise or wanted
    told = []
    if wanted is not None and wanted < calendar.today:
        told.append(f"The wanted day, {_said(wanted, calendar)}, is past.")
    if wanted is not None and promise is not None and promise > wanted:
        told.append(f"Promised {_said(promise, calendar)}, after the wanted day, {_said(wanted, calendar)}.")
    if bench is not None and last is not None and bench > last:
        told.append(f"At the bench {_said(bench, calendar)}, after {_said(last, calendar)}.")
    return Notes("", tuple(Warned(sentence, is_open=True) for sentence in told))


def _said(day: date, calendar: Calendar) -> str:
    return day_words(day, today=calendar.today)
