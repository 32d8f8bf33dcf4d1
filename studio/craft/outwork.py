"""Work that is done outside the studio: by whom, until when, and how long it is over its day."""

from datetime import date
from enum import StrEnum

LONGEST_WORKER = 80
LONGEST_WORKER_NOTE = 200
LONGEST_WHAT = 300
LONGEST_CONDITION = 300
MOST_THINGS = 20


class Trade(StrEnum):
    """What an outside worker does."""

    SETTER = "setter"
    ENGRAVER = "engraver"
    ASSAY_OFFICE = "assay office"
    CASTER = "caster"
    PLATER = "plater"
    OTHER = "other"


def days_over(due_on: date, today: date) -> int:
    """How many days work is over its day: 0 on the day itself and before, 1 on the day after."""
    return max(0, (today - due_on).days)


def weight_lost_mg(out_mg: int | None, in_mg: int | None) -> int | None:
    """What was lost outside, in mg; below 0 where it came back heavier, None where one was not weighed."""
    return None if out_mg is None or in_mg is None else out_mg - in_mg
