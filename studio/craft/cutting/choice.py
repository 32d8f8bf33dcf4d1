"""Which pieces to open: the least area that meets every demand known so far."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import floor, gcd

from studio.craft.cutting.bound import Demand
from studio.craft.cutting.cover import least_cover
from studio.craft.cutting.kinds import Size
from studio.craft.cutting.solver import Column, Model, Verdict
from studio.craft.cutting.task import Piece

SINGLE_PIECES = 120
"""Up to so many pieces each is an unknown of its own, so that one choice can be ruled out."""
INFINITY = float("inf")
SCALE = 1000.0
"""What every demand is scaled to: the solver takes a row as met that misses by a millionth."""
SPARE_GAP = 0.0005
"""How near the least area is near enough where the demands are raised anyway."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """How many of each size, and their area; no choice that meets the demands has less than `least`."""

    counts: tuple[int, ...]
    area: int
    least: int

    @property
    def is_least(self) -> bool:
        """Whether no choice that meets the demands has less area."""
        return self.least >= self.area


@dataclass(slots=True)
class Choice:
    """Demands and choices ruled out, growing while a plan is sought."""

    sizes: Sequence[Size]
    demands: list[Demand] = field(default_factory=list)
    ruled_out: list[tuple[int, ...]] = field(default_factory=list)

    @property
    def can_rule_out(self) -> bool:
        """Whether single choices can be ruled out: there are few enough pieces."""
        return self._pieces() <= SINGLE_PIECES

    def _pieces(self) -> int:
        return sum(len(size.pieces) for size in self.sizes)

    def cheapest(
        self, seconds: float, at_most: int, spare: float = 0.0, *, is_quick: bool = False
    ) -> Chosen | None:
        """The choice of least area, where that is below `at_most`; else any that opens as much or more.

        `spare` asks for this share more than the demands; a quick one is near the least. None where no choice
        meets them, or none is found.
        """
        counts = least_cover(self.sizes, self.demands[-1], spare, at_most)
        if counts is not None and self._meets(counts, spare):
            return Chosen(counts, self.area(counts), self.area(counts))
        columns, of_size = self._columns([float(size.area) for size in self.sizes], 0.0)
        gap = SPARE_GAP if spare or is_quick else 0.0
        return self._solved(columns, of_size, seconds, spare=spare, gap=gap)

    def kindest(self, seconds: float, area: int) -> Chosen | None:
        """A choice of just this area that opens few fresh pieces, and holds much."""
        return self._solved(*self._kindest(), seconds, area=area)

    def area(self, counts: Sequence[int]) -> int:
        """What a choice opens."""
        return sum(size.area * count for size, count in zip(self.sizes, counts, strict=True))

    def _meets(self, counts: tuple[int, ...], spare: float) -> bool:
        if any(
            all(count <= out for count, out in zip(counts, ruled_out, strict=True))
            for ruled_out in self.ruled_out
        ):
            return False
        return all(
            sum(hold * count for hold, count in zip(demand.holds, counts, strict=True))
            >= demand.need * (1 + spare)
            for demand in self.demands
        )

    def pieces(self, counts: Sequence[int]) -> list[Piece]:
        """The pieces of a choice."""
        return [
            piece for size, count in zip(self.sizes, counts, strict=True) for piece in size.pieces[:count]
        ]

    def _kindest(self) -> tuple[list[Column], list[int]]:
        """The same unknowns; they cost what is fresh, and earn a little for what they hold."""
        material = self.demands[0]
        most = max(material.holds) or 1.0
        return self._columns([-held / most * 0.01 for held in material.holds], 1.0)

    def _columns(self, costs: Sequence[float], cost_of_fresh: float) -> tuple[list[Column], list[int]]:
        largest = max(size.area for size in self.sizes)
        step = self._step()
        columns: list[Column] = []
        of_size: list[int] = []
        for number, (size, cost) in enumerate(zip(self.sizes, costs, strict=True)):
            scaled = cost / step if cost_of_fresh == 0 else cost
            if not self.can_rule_out:
                columns.append(Column(scaled, {}, high=len(size.pieces), is_whole=True))
                of_size.append(number)
                continue
            for piece in size.pieces:
                fresh = 0.0 if piece.stock.is_offcut else cost_of_fresh * size.area / largest
                columns.append(Column(scaled + fresh, {}, high=1.0, is_whole=True))
                of_size.append(number)
        return columns, of_size

    def _step(self) -> float:
        """What costs are counted in: a step that divides all areas, where that keeps them small."""
        largest = max(size.area for size in self.sizes)
        step = float(gcd(*(size.area for size in self.sizes)))
        return largest / 1000 if largest / step > 1_000_000 else step

    def _solved(
        self,
        columns: Sequence[Column],
        of_size: Sequence[int],
        seconds: float,
        *,
        spare: float = 0.0,
        area: int | None = None,
        gap: float = 0.0,
    ) -> Chosen | None:
        model = Model([], columns)
        self._add_demands(model, of_size, spare)
        if self.can_rule_out:
            self._add_ruled_out(model, of_size)
        if area is not None:
            largest = max(size.area for size in self.sizes)
            model.row(
                -INFINITY,
                area / largest * (1 + 1e-12),
                {at: self.sizes[number].area / largest for at, number in enumerate(of_size)},
            )
        if area is None:
            solved = model.solve(seconds, nodes=20_000, gap=gap)
        else:
            solved = model.solve(min(seconds, 0.2), nodes=20, gap=0.2)
        if not solved.values:
            return None
        found = [0] * len(self.sizes)
        for at, value in enumerate(solved.values):
            found[of_size[at]] += round(value)
        whole = self.area(found)
        if area is not None and whole != area:
            return None
        if gap == 0.0 and solved.verdict is Verdict.OPTIMAL:
            return Chosen(tuple(found), whole, whole)
        least = 0 if area is not None else floor(solved.bound * self._step() * (1 - 1e-9))
        return Chosen(tuple(found), whole, max(least, 0))

    def _add_demands(self, model: Model, of_size: Sequence[int], spare: float) -> None:
        for demand in self.demands:
            scale = max(demand.need, 1e-9) / SCALE
            holds = {at: demand.holds[number] / scale for at, number in enumerate(of_size)}
            model.row(SCALE * (1.0 + spare), INFINITY, holds)

    def _add_ruled_out(self, model: Model, of_size: Sequence[int]) -> None:
        """The copies of a size one after the other; and of each choice ruled out, some piece beyond it."""
        for at in range(1, len(of_size)):
            if of_size[at] == of_size[at - 1]:
                model.row(0.0, INFINITY, {at - 1: 1.0, at: -1.0})
        for counts in self.ruled_out:
            seen = [0] * len(self.sizes)
            beyond: dict[int, float] = {}
            for at, number in enumerate(of_size):
                seen[number] += 1
                if seen[number] > counts[number]:
                    beyond[at] = 1.0
            model.row(1.0, INFINITY, beyond)
