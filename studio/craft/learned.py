"""What the studio's own rings say of patterns, as it is kept with every ring."""

from dataclasses import dataclass
from enum import StrEnum

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.metals import Metal


class ThicknessBand(StrEnum):
    """How thick a strip is for its pattern: a hammer moves thin metal farther than thick."""

    THIN = "thin"
    MIDDLE = "middle"
    THICK = "thick"


@dataclass(frozen=True, slots=True)
class Learned:
    """What the studio's own rings say of one kind of work: the forecast for the next ring, in percent.

    Without `metal` and `band` it stands for all kinds of its pattern. `records` rings of that very kind stand
    behind it, the last of them by name in `rings`, and `others` of the same pattern lent it a start.
    """

    pattern: Pattern
    when: PatternWhen
    metal: Metal | None
    band: ThicknessBand | None
    mean_percent: float
    half_width_percent: float
    sd_percent: float
    records: int
    others: int
    rings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LearnedForming:
    """By how much waists of the studio's own came out smaller than closed, round: the forecast, in mm.

    Without `metal` and `band` it stands for all kinds. `records` rings of that very kind stand behind it, the
    last of them by name in `rings`, and `others` of other kinds lent it a start.
    """

    metal: Metal | None
    band: ThicknessBand | None
    mean_mm: float
    half_width_mm: float
    records: int
    others: int
    rings: tuple[str, ...]
