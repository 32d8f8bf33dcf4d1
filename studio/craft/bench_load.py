"""What the bench has before it and behind it, week by week: hours planned, and hours really noted."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from statistics import mean


@dataclass(frozen=True, slots=True)
class PlannedRing:
    """A ring's bench day with the minutes of its route; `untold` steps have none that anybody said."""

    ring: str
    bench_on: date
    minutes: float
    untold: int = 0


@dataclass(frozen=True, slots=True)
class WeekLoad:
    """One week from its `monday`: rings due at the bench with their minutes, and the minutes noted there.

    `noted` is None for a week that is to come. `untold` rings have steps whose minutes nobody has said.
    """

    monday: date
    rings: int
    planned: float
    noted: float | None
    untold: int = 0


def week_loads(
    mondays: Sequence[date], planned: Sequence[PlannedRing], noted: Sequence[float | None]
) -> tuple[WeekLoad, ...]:
    """The weeks that begin on these Mondays; `noted` are their minutes, week by week.

    Raises ValueError where the weeks and their minutes are not as many.
    """
    found = []
    for monday, minutes in zip(mondays, noted, strict=True):
        rings = [one for one in planned if 0 <= (one.bench_on - monday).days < 7]
        untold = sum(one.untold > 0 for one in rings)
        found.append(WeekLoad(monday, len(rings), sum(one.minutes for one in rings), minutes, untold))
    return tuple(found)


LEAST_WEEKS = 3


def usual_minutes(weeks: Sequence[WeekLoad], this_monday: date) -> float | None:
    """What the bench notes in a week, in minutes: the mean of the weeks that are over and have any.

    Weeks without a minute are holidays, or of before anybody noted. None below `LEAST_WEEKS` of them, as the
    mean of one says little.
    """
    over = [one.noted for one in weeks if one.monday < this_monday and one.noted]
    return mean(over) if len(over) >= LEAST_WEEKS else None
