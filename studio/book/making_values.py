"""What a hand-over is asked for: how each ring came out, and what becomes of the customer's goods."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from studio.craft.as_made import MadeFigures


class GoodEnd(StrEnum):
    """What becomes of something of the customer's when the order is handed over."""

    BACK = "goes back"
    USED = "is in the ring"
    STAYS = "stays with us"


@dataclass(frozen=True, slots=True)
class GoodGiven:
    """What becomes of one line, and what goes back of it weighs; None where nobody weighed it."""

    end: GoodEnd
    weight_mg: int | None = None


@dataclass(frozen=True, slots=True)
class RingGiven:
    """A ring as it came out: its size by label where one was typed, its finished weight, its metal's lot."""

    size_mm: float | None = None
    label: str = ""
    finished_g: float | None = None
    lot: str = ""


@dataclass(frozen=True, slots=True)
class HandingOver:
    """What is handed over: rings by their place, goods by the key of their line.

    A ring that is not named goes by what the bench measured, a line that is not named goes back.
    """

    rings: Mapping[int, RingGiven] = field(default_factory=dict)
    goods: Mapping[str, GoodGiven] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class RingKnown:
    """What the bench knows of a ring before it is handed over, and who worked on it."""

    position: int
    figures: MadeFigures
    makers: str
