"""How long a ring is planned to take, and how long it has taken: minutes for the operations of its route."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor
from statistics import median

from studio.craft.designs import Design, Pattern, Profile
from studio.craft.operations import Operation

OPERATIONS: Mapping[str, str] = {
    "trial": "Make a trial in copper",
    "weigh": "Weigh out",
    "roll": "Roll the pattern",
    "saw": "Scribe and saw",
    "profile": "File the section",
    "pattern": "Work the pattern",
    "square": "Square the ends",
    "anneal": "Anneal, quench, pickle",
    "bend": "Bend till the ends meet",
    "solder": "Solder the seam",
    "round": "Round up",
    "sides": "True the sides and the seam",
    "seam-pattern": "Work the pattern over the seam",
    "anneal-form": "Anneal again before forming",
    "form": "Sink over the groove",
    "size": "Check the size",
    "finish": "Finish",
}
"""Every operation a route may hold, by its step's key, in the order of the bench."""

DESIGNS_OF_OPERATION: Mapping[str, tuple[str, ...]] = {
    "profile": tuple(profile for profile in Profile if profile not in {Profile.FLAT, Profile.SQUARE}),
    "pattern": (Pattern.HAMMERED, Pattern.STAMPED),
    "seam-pattern": (Pattern.HAMMERED, Pattern.STAMPED, Pattern.ROLLED),
    "finish": tuple(Pattern),
}
"""Operations whose minutes hang on the design: by section, or by pattern."""


class MinutesMissing(ValueError):
    """The studio has not said how long an operation takes."""

    def __init__(self, *rows: str) -> None:
        super().__init__(f"no minutes for {', '.join(rows)}")
        self.rows = rows


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """One step of a route with the row it took its minutes from.

    `rings` is how many rings that are made say so; 0 where the minutes are those of the studio's table.
    """

    row: str
    minutes: int
    rings: int = 0


@dataclass(frozen=True, slots=True)
class MinutesRecord:
    """How long an operation took: the median of its minutes over so many `rings`."""

    minutes: float
    rings: int


def minute_rows() -> tuple[str, ...]:
    """Every row a complete table of minutes has: 'weigh', 'pattern:hammered', 'profile:half-round' ..."""
    return tuple(
        row
        for key in OPERATIONS
        for row in ([f"{key}:{design}" for design in DESIGNS_OF_OPERATION.get(key, ())] or [key])
    )


def planned_minutes(
    route: Sequence[Operation],
    design: Design,
    minutes: Mapping[str, int],
    records: Mapping[str, MinutesRecord] | None = None,
) -> tuple[PlannedStep, ...]:
    """The planned minutes of each operation of a ring's route that the table has a row for.

    The record of the studio's own rings goes before its table, half up to the whole minute.

    What is bought in or priced by the piece (letters, stones, marks, plating) has none. What is done in
    courses counts once: its minutes are those of all courses. Raises `MinutesMissing` with every row the
    studio has not filled in.
    """
    rows = [
        _row(one.minutes_row, design) for one in route if one.course <= 1 and one.minutes_row in OPERATIONS
    ]
    known = records or {}
    if missing := [row for row in dict.fromkeys(rows) if row not in minutes and row not in known]:
        raise MinutesMissing(*missing)
    return tuple(
        PlannedStep(row, minutes[row])
        if (found := known.get(row)) is None
        else PlannedStep(row, floor(found.minutes + 0.5), found.rings)
        for row in rows
    )


def _row(key: str, design: Design) -> str:
    return minutes_row(key, design.profile, design.pattern)


def minutes_row(key: str, profile: str, pattern: str) -> str:
    """The row of the minutes of one operation of a ring: 'saw', 'pattern:hammered', 'profile:half-round'.

    A course of a work in courses is of the row of its work: 'form-2' gives 'form'.
    """
    work = key.rstrip("0123456789").removesuffix("-")
    if work in OPERATIONS:
        key = work
    if key not in DESIGNS_OF_OPERATION:
        return key
    return f"{key}:{profile if key == 'profile' else pattern}"


LEAST_RINGS = 3
"""From so many rings on, the studio's own median goes before the minutes it planned: common practice."""


def median_minutes(taken: Mapping[str, Sequence[float]]) -> dict[str, MinutesRecord]:
    """The median of the minutes an operation took, by its row, where `LEAST_RINGS` rings or more say so.

    `{'solder': [12, 15, 40]}` gives 15 minutes of 3 rings: one bad day moves nothing.
    """
    return {
        row: MinutesRecord(float(median(found)), len(found))
        for row, found in taken.items()
        if len(found) >= LEAST_RINGS
    }


def with_minutes(
    route: Sequence[Operation],
    design: Design,
    planned: Mapping[str, int],
    records: Mapping[str, MinutesRecord] | None = None,
) -> tuple[Operation, ...]:
    """The operations with their minutes: the studio's median, else what it planned, else none.

    Both are by row. What the studio added itself keeps the minutes that were said of it. What is done in
    courses shares its row evenly, so that all courses add up to it.
    """
    known = {row: one.minutes for row, one in (records or {}).items()}
    rows = [_row(one.minutes_row, design) for one in route]
    shares = Counter(rows)
    return tuple(
        one if one.is_own else replace(one, minutes=None if found is None else found / shares[row])
        for one, row in zip(route, rows, strict=True)
        for found in [known.get(row, planned.get(row))]
    )
