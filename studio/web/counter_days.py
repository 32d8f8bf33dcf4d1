"""The days of an order as typed at the counter, and what to beware of in them."""

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from studio.craft.open_days import NOT_SAID, BackPlan, Part, StudioDays, Work, back_plan
from studio.web.counter_page import Notes, Warned
from studio.web.days import HourUnclear, day_words, full_day_words
from studio.web.errors import FieldError, FieldErrors, Findings
from studio.web.forms import Calendar
from studio.web.wording import joined, opened


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
    except HourUnclear:
        raise
    except FieldErrors:
        raise FieldErrors([FieldError("promised_hour", "Which hour? Type it like 10:00.")]) from None


@dataclass(frozen=True, slots=True)
class Counted:
    """What a promise is counted back by: the studio's days, and the parts of the work."""

    days: StudioDays
    work: Work


NOT_COUNTED = Counted(NOT_SAID, Work())


def day_notes(
    wanted_typed: str,
    promised: tuple[str, str],
    bench_typed: str,
    calendar: Calendar,
    *,
    is_fixed: bool,
    counted: Counted = NOT_COUNTED,
) -> Notes:
    """The days as they were understood, where they were typed without their weekday, and what warns of them.

    '19 dec' is said back as 'Wanted Sat 19 Dec.' What stands in the folded fields is always said: 'A fixed
    day, at the bench Tue 1 Dec.' Warnings are of days that cannot all be kept: wanted in the
    past, promised after it, made after that, or begun too late for how long it takes. They refuse nothing. A
    day that cannot be read says nothing.
    """
    found = Findings()
    wanted = found.take(lambda: calendar.day(wanted_typed, "wanted_on"))
    bench = found.take(lambda: calendar.day(bench_typed, "bench_on"))
    moment = found.take(lambda: read_promised(*promised, calendar))
    promise = None if moment is None else moment.astimezone(ZoneInfo(calendar.zone)).date()
    last = promise or wanted
    warned = []
    if wanted is not None and wanted < calendar.today:
        warned.append(f"The wanted day, {_said(wanted, calendar)}, is past.")
    if wanted is not None and promise is not None and promise > wanted:
        warned.append(
            f"Promised {_said(promise, calendar)}, after the wanted day, {_said(wanted, calendar)}."
        )
    if bench is not None and last is not None and bench > last:
        warned.append(f"At the bench {_said(bench, calendar)}, after {_said(last, calendar)}.")
    plan = back_plan(last, calendar.today, counted.days, counted.work) if last else None
    if promise is not None and not counted.days.open.is_open(promise):
        warned.append(f"Promised {_said(promise, calendar)}, when we are closed.")
    if plan is not None and (late := plan_warning(plan, bench, calendar.today)):
        warned.append(late)
    understood = [
        f"{name} {_said(day, calendar)}"
        for name, typed, day in (("wanted", wanted_typed, wanted), ("promised", promised[0], promise))
        if day is not None and typed.strip() not in {_said(day, calendar), full_day_words(day)}
    ]
    understood += ["a fixed day"] if is_fixed and wanted is not None else []
    understood += [] if bench is None else [f"at the bench {_said(bench, calendar)}"]
    if plan is not None and bench is None and not plan.short:
        understood.append(f"to be begun by {_said(plan.begin_by, calendar)}")
    sentence = f"{opened(', '.join(understood))}." if understood else ""
    return Notes(sentence, tuple(Warned(words, is_open=True) for words in warned))


def plan_warning(plan: BackPlan, bench_on: date | None, today: date) -> str:
    """That a promise cannot be kept, or its day at the bench is too late; '' where it fits.

    'It takes 9 open days with the assay: 3 days short, even begun today.'
    """
    if plan.short:
        short = f"{plan.short} day{'' if plan.short == 1 else 's'}"
        return f"{_taken(plan)}: {short} short, even begun today."
    if bench_on is not None and bench_on > plan.begin_by:
        return f"{_taken(plan)}: to be begun by {day_words(plan.begin_by, today=today)}."
    return ""


def _taken(plan: BackPlan) -> str:
    """'It takes 9 open days with the assay and setting'."""
    many = f"{plan.days} open day{'' if plan.days == 1 else 's'}"
    beside = [f"the {part}" if part is Part.ASSAY else str(part) for part in plan.beside]
    return f"It takes {many}{f' with {joined(beside)}' if beside else ''}"


def _said(day: date, calendar: Calendar) -> str:
    return day_words(day, today=calendar.today)
