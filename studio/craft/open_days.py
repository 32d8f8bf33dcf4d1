"""Open days, and the day a ring has to be begun so that it is ready when it is promised.

How many days each part takes is the studio's own; days on which it is closed do not count.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

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

    def after(self, day: date, count: int) -> date:
        """The open day that lies `count` open days after `day`; for 0 the day itself.

        Closed on Sundays: two open days after Saturday 5 December 2026 is Tuesday 8. Raises ValueError where
        there are not so many.
        """
        found = day
        for _ in range(_FAR):
            if count <= 0:
                return found
            found += _DAY
            count -= self.is_open(found)
        if count <= 0:
            return found
        raise ValueError("there are not so many open days")

    def between(self, first: date, last: date) -> int:
        """Open days from `first` on and before `last`; 0 where `last` is not later."""
        days = (first + timedelta(days=number) for number in range(max(0, (last - first).days)))
        return sum(self.is_open(day) for day in days)


class Part(StrEnum):
    """A part of the work on a ring that takes days, in the order they follow each other."""

    MAKING = "making"
    ASSAY = "assay"
    ENGRAVING = "engraving"
    SETTING = "setting"
    FINISHING = "finishing"
    PLATING = "plating"


@dataclass(frozen=True, slots=True)
class Work:
    """Which parts a ring, or the rings of an order, go through beyond making and finishing."""

    is_assayed: bool = False
    is_engraved: bool = False
    is_set: bool = False
    is_plated: bool = False

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts in turn."""
        others = {
            Part.ASSAY: self.is_assayed,
            Part.ENGRAVING: self.is_engraved,
            Part.SETTING: self.is_set,
            Part.PLATING: self.is_plated,
        }
        return tuple(part for part in Part if others.get(part, True))


@dataclass(frozen=True, slots=True)
class DaysNeeded:
    """Open days that each part of a ring takes, from the first at the bench to the last.

    `engraving` and `plating` are by others, there and back.
    """

    making: int = 0
    assay: int = 0
    finishing: int = 0
    setting: int = 0
    engraving: int = 0
    plating: int = 0

    def of(self, work: Work) -> tuple[tuple[Part, int], ...]:
        """The parts that this work goes through and that take days, in turn, each with its days."""
        told = {
            Part.MAKING: self.making,
            Part.ASSAY: self.assay,
            Part.ENGRAVING: self.engraving,
            Part.SETTING: self.setting,
            Part.FINISHING: self.finishing,
            Part.PLATING: self.plating,
        }
        return tuple((part, told[part]) for part in work.parts if told[part])


@dataclass(frozen=True, slots=True)
class StudioDays:
    """When the studio works, and how long its rings take."""

    open: OpenDays = OpenDays()
    needed: DaysNeeded = DaysNeeded()


NOT_SAID = StudioDays()
"""Nobody said when the studio is closed, or how long anything takes."""


@dataclass(frozen=True, slots=True)
class DayStep:
    """One part of the work, from its first open day to its last, begun as late as can be."""

    part: Part
    first: date
    last: date


@dataclass(frozen=True, slots=True)
class BackPlan:
    """A promise counted back: the last day to begin, and by how many open days that is too late today.

    `steps` are the parts in turn, begun on that last day.
    """

    begin_by: date
    days: int
    short: int
    steps: tuple[DayStep, ...] = ()

    @property
    def beside(self) -> tuple[Part, ...]:
        """The parts beyond making and finishing."""
        return tuple(one.part for one in self.steps if one.part not in {Part.MAKING, Part.FINISHING})


def back_plan(promised_on: date, today: date, days: StudioDays, work: Work) -> BackPlan | None:
    """When to begin for what is promised; None where the studio has not said how long anything takes.

    All of it is done before the promised day. Making 3 days, the assay 5, finishing 1, closed on Sundays:
    promised for Friday 18 December 2026 it is begun on Tuesday 8 at the latest.
    """
    parts = days.needed.of(work)
    count = sum(its for _, its in parts)
    if count == 0:
        return None
    steps: list[DayStep] = []
    after = promised_on
    for part, its in reversed(parts):
        steps.append(DayStep(part, days.open.before(after, its), days.open.before(after, 1)))
        after = steps[-1].first
    begin_by = after
    short = count - days.open.between(today, promised_on) if begin_by < today else 0
    return BackPlan(begin_by, count, short, tuple(reversed(steps)))
