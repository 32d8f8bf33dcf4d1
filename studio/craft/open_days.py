"""Open days, and the day a ring has to be begun so that it is ready when it is promised.

How many days each part takes is the studio's own; days on which it is closed do not count.
"""

from dataclasses import dataclass
from datetime import date, timedelta

MOST_DAYS = 120
"""Days that one part may take."""
_DAY = timedelta(days=1)
_FAR = 3_000
"""So many days are looked at for an open one; beyond them the studio is closed for good."""


@dataclass(frozen=True, slots=True)
class OpenDays:
    """On which days the studio is closed: weekdays (Monday is 0), and single days."""

    closed_weekdays: frozenset[int] = frozenset()
    closed_on: frozenset[date] = frozenset()

    def is_open(self, day: date) -> bool:
        """Whether anybody works on `day`."""
        return day.weekday() not in self.closed_weekdays and day not in self.closed_on

    def before(self, day: date, count: int) -> date:
        """The open day that lies `count` open days before `day`; for 0 the day itself.

        Closed on Sundays: two open days before Monday 7 December 2026 is Friday 4. Raises ValueError where
        there are not so many.
        """
        found = day
        for _ in range(_FAR):
            if count <= 0:
                return found
            found -= _DAY
            count -= self.is_open(found)
        if count <= 0:
            return found
        raise ValueError("there are not so many open days")

    def between(self, first: date, last: date) -> int:
        """Open days from `first` on and before `last`; 0 where `last` is not later."""
        days = (first + timedelta(days=number) for number in range(max(0, (last - first).days)))
        return sum(self.is_open(day) for day in days)


@dataclass(frozen=True, slots=True)
class DaysNeeded:
    """Open days that each part of a ring takes, from the first at the bench to the last."""

    making: int = 0
    assay: int = 0
    finishing: int = 0

    def all_for(self, *, is_assayed: bool) -> int:
        """All of them; the assay's only where the ring goes there."""
        return self.making + self.finishing + (self.assay if is_assayed else 0)


@dataclass(frozen=True, slots=True)
class StudioDays:
    """When the studio works, and how long its rings take."""

    open: OpenDays = OpenDays()
    needed: DaysNeeded = DaysNeeded()


NOT_SAID = StudioDays()
"""Nobody said when the studio is closed, or how long anything takes."""


@dataclass(frozen=True, slots=True)
class BackPlan:
    """A promise counted back: the last day to begin, and by how many open days that is too late today."""

    begin_by: date
    days: int
    short: int


def back_plan(promised_on: date, today: date, days: StudioDays, *, is_assayed: bool) -> BackPlan | None:
    """When to begin for what is promised; None where the studio has not said how long anything takes.

    All of it is done before the promised day. Making 3 days, the assay 5, finishing 1, closed on Sundays:
    promised for Friday 18 December 2026 it is begun on Tuesday 8 at the latest.
    """
    count = days.needed.all_for(is_assayed=is_assayed)
    if count == 0:
        return None
    begin_by = days.open.before(promised_on, count)
    short = count - days.open.between(today, promised_on) if begin_by < today else 0
    return BackPlan(begin_by, count, short)
