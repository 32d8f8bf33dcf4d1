"""How long a ring is planned to take: the studio's minutes for the steps of its route."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from studio.craft.designs import Design, Pattern, Profile
from studio.craft.route_steps import Step

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
    """One step of a route with the row of the table it took its minutes from."""

    row: str
    minutes: int


def minute_rows() -> tuple[str, ...]:
    """Every row a complete table of minutes has: 'weigh', 'pattern:hammered', 'profile:half-round' ..."""
    return tuple(
        row
        for key in OPERATIONS
        for row in ([f"{key}:{design}" for design in DESIGNS_OF_OPERATION.get(key, ())] or [key])
    )


def planned_minutes(
    route: Sequence[Step], design: Design, minutes: Mapping[str, int]
) -> tuple[PlannedStep, ...]:
    """The planned minutes of each step of a ring's route.

    Raises `MinutesMissing` with every row the studio has not filled in. A step that comes twice counts twice.
    """
    rows = [_row(step.key, design) for step in route]
    if missing := [row for row in dict.fromkeys(rows) if row not in minutes]:
        raise MinutesMissing(*missing)
    return tuple(PlannedStep(row, minutes[row]) for row in rows)


def _row(key: str, design: Design) -> str:
    if key not in DESIGNS_OF_OPERATION:
        return key
    return f"{key}:{design.profile if key == 'profile' else design.pattern}"
