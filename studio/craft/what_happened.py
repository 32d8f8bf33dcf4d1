"""Estimate against actual: what a ring was planned to take when the yes came, and what it really took."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import mean


@dataclass(frozen=True, slots=True)
class StepHappened:
    """One row of the minutes: those planned and those it took, None where nobody said."""

    row: str
    planned: float | None
    took: float | None

    @property
    def more(self) -> float | None:
        """How many minutes more it took than was planned; less is below 0."""
        return None if self.planned is None or self.took is None else self.took - self.planned


@dataclass(frozen=True, slots=True)
class RingHappened:
    """One ring: its minutes by step, and its metal in mg as issued for the bench and as it was finished."""

    steps: tuple[StepHappened, ...]
    in_mg: int | None = None
    out_mg: int | None = None

    @property
    def took(self) -> float:
        """The minutes of all steps that have a record."""
        return sum(step.took for step in self.steps if step.took is not None)

    @property
    def planned(self) -> float:
        """The minutes of all steps that were planned."""
        return sum(step.planned for step in self.steps if step.planned is not None)

    @property
    def expected(self) -> float:
        """The minutes of the whole ring: what a step took, else what it was planned with."""
        return sum(step.took if step.took is not None else step.planned or 0.0 for step in self.steps)

    @property
    def untold(self) -> tuple[str, ...]:
        """The rows that were planned and have no record: they count as planned."""
        return tuple(step.row for step in self.steps if step.took is None)

    @property
    def loss_mg(self) -> int | None:
        """What went in and did not come out, in mg: filings and offcuts; None where one is not weighed."""
        return None if self.in_mg is None or self.out_mg is None else self.in_mg - self.out_mg


@dataclass(frozen=True, slots=True)
class Allowance:
    """What the next ring of a kind should be allowed more for one row, in minutes, the mean of `rings`."""

    row: str
    minutes: float
    rings: int


def steps_happened(
    planned: Sequence[tuple[str, float]], took: Mapping[str, float]
) -> tuple[StepHappened, ...]:
    """Planned and real minutes side by side, in the order of the plan, then what nobody planned.

    A row that was planned twice, as annealing may be, is one.
    """
    sums: defaultdict[str, float] = defaultdict(float)
    for row, minutes in planned:
        sums[row] += minutes
    rows = dict.fromkeys([*sums, *took])
    return tuple(StepHappened(row, sums.get(row), took.get(row)) for row in rows)


def allowances(rings: Iterable[RingHappened], *, least_minutes: float = 1.0) -> tuple[Allowance, ...]:
    """What the next ring of these rings' kind should be allowed more or less, the largest difference first.

    The mean difference of the rings that have both figures; under `least_minutes` it is not worth a word.
    """
    found: defaultdict[str, list[float]] = defaultdict(list)
    for ring in rings:
        for step in ring.steps:
            if step.more is not None:
                found[step.row].append(step.more)
    told = [Allowance(row, mean(more), len(more)) for row, more in found.items()]
    worth = [one for one in told if abs(one.minutes) >= least_minutes]
    return tuple(sorted(worth, key=lambda one: (-abs(one.minutes), one.row)))
