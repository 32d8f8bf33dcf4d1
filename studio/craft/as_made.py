"""A ring as it was made: what the bench measured and what was typed at the hand-over, beside the order."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from studio.craft.bench_work import BenchWork
from studio.craft.designs import Limits, System
from studio.craft.operations import Operation
from studio.craft.sizes import BeyondZ, named, nearest

OTHERWISE_MM = 0.15
"""From here on the circumference is another than was ordered, about half a quarter of a UK size: common
practice, no source."""
WEIGHT_G = Limits(0.05, 2000.0)
LONGEST_LOT = 60


@dataclass(frozen=True, slots=True)
class MadeFigures:
    """What is known of a ring as it came out: its inside round in mm, masses in g; None is not known.

    Lengths are those of the strip before and after its pattern, the inside round once closed. `issued_g` is
    the metal weighed out, `finished_g` the finished ring with all that is on it. `lot` is that of its metal.
    """

    size_mm: float | None = None
    before_mm: float | None = None
    after_mm: float | None = None
    closed_mm: float | None = None
    issued_g: float | None = None
    finished_g: float | None = None
    lot: str = ""


@dataclass(frozen=True, slots=True)
class AsMade:
    """A ring as it was handed over: its place in the order, its size by label, who made it, and when (UTC).

    `ordered_mm` is the inside round it was reckoned for.
    """

    position: int
    system: System
    label: str
    ordered_mm: float
    figures: MadeFigures
    makers: str
    handed_over_at: datetime

    @property
    def is_otherwise(self) -> bool:
        """Whether its size came out another than was ordered."""
        made = self.figures.size_mm
        return made is not None and abs(made - self.ordered_mm) >= OTHERWISE_MM


def measured_size_mm(
    operations: Sequence[Operation], work: BenchWork, closed_mm: float | None, formed_mm: float | None
) -> float | None:
    """The inside round as the bench measured it last: at the size step, once formed, or once closed.

    The step is measured across: 17.83 mm there are 56.01 mm round. A size taken before a ring was formed is
    not that of the finished ring, so without the step a formed ring goes by what was measured once formed.
    """
    across = next((work.step(one.key).figure for one in operations if one.key == "size"), None)
    if across is not None:
        return math.pi * across
    return formed_mm if formed_mm is not None else closed_mm


def weighed_g(operations: Sequence[Operation], work: BenchWork, key: str) -> float | None:
    """What was weighed at a step of the ring, 'weigh' going out and 'finish' coming back, in g."""
    return next((work.step(one.key).figure for one in operations if one.key == key), None)


def size_label(system: System, size_mm: float, beyond: BeyondZ = BeyondZ.WHOLE) -> str:
    """The label nearest to an inside round, in words: 'UK O'; 'mm round 98.2' where the system has none."""
    found = nearest(system, size_mm, beyond)
    return f"{size_mm:.1f} mm round" if found is None else named(system, found.label)


def size_words(made: AsMade, beyond: BeyondZ = BeyondZ.WHOLE) -> str:
    """How it came out beside the order: 'made at UK O, ordered at UK N½', or 'made at UK O, as ordered'.

    Made otherwise by less than a step of the system, both are told in mm round.
    """
    size_mm = made.figures.size_mm
    if size_mm is None:
        return "its size was not measured"
    label = named(made.system, made.label) if made.label else size_label(made.system, size_mm, beyond)
    if not made.is_otherwise:
        return f"made at {label}, as ordered"
    ordered = size_label(made.system, made.ordered_mm, beyond)
    if ordered == label:
        return f"made at {label}, {size_mm:.2f} mm round, ordered at {made.ordered_mm:.2f}"
    return f"made at {label}, ordered at {ordered}"
