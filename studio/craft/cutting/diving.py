"""From fractions to whole strips: fix the rip or strip the relaxation cuts most of, solve again, go on."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from math import floor

from studio.craft.cutting.layout import Layout, Sheet, sheet_of
from studio.craft.cutting.relaxation import Relaxation
from studio.craft.cutting.solver import Solved

MOST_FAILS = 4
NEARLY = 1e-6


def dived(
    relaxation: Relaxation,
    counts: Sequence[int],
    seconds_left: Callable[[], float],
    most_fails: int = MOST_FAILS,
) -> Layout | None:
    """All blanks in so many pieces of each size, or None where diving ends without.

    The relaxation must know each kind of blank by itself, and be limited to these pieces.
    """
    dive = _Dive(relaxation, seconds_left, most_fails)
    solved = dive.run()
    dive.undo()
    return _layout(relaxation, counts, solved) if solved is not None else None


class _Dive:
    def __init__(self, relaxation: Relaxation, seconds_left: Callable[[], float], most_fails: int) -> None:
        self.most_fails = most_fails
        self.relaxation = relaxation
        self.left = seconds_left
        self.bounds: dict[int, tuple[float, float]] = {}

    def run(self) -> Solved | None:
        """The whole-numbered solution it comes to; None where it comes to none in time."""
        fails = 0
        done: list[dict[int, tuple[float, float]]] = []
        chosen: list[tuple[int, float]] = []
        while self.left() > 0:
            solved, _ = self.relaxation.refined(self.left, 25, until_all=True)
            if not solved.values:
                return None
            if self.relaxation.lacks(solved):
                fails += 1
                if not done or fails > self.most_fails:
                    return None
                self._restore(done.pop())
                at, value = chosen.pop()
                self._bound(at, self.bounds.get(at, (0.0, 0.0))[0], float(floor(value)))
                continue
            part = self._largest_part(solved)
            if part is None:
                return solved
            done.append(dict(self.bounds))
            at, value = part
            chosen.append(part)
            for column in self._columns():
                whole = floor(solved.values[column] + NEARLY) if column < len(solved.values) else 0
                if whole > self.bounds.get(column, (0.0, 0.0))[0]:
                    self._bound(column, float(whole), self._high(column))
            self._bound(at, floor(value) + 1.0, self._high(at))
        return None

    def undo(self) -> None:
        """Give every column its freedom back."""
        for column in self.bounds:
            self.relaxation.model.bound_column(column, 0.0, float("inf"))

    def _columns(self) -> list[int]:
        rips = [at for _, _, at in self.relaxation.rips]
        return rips + [at for _, _, _, at in self.relaxation.strips]

    def _largest_part(self, solved: Solved) -> tuple[int, float] | None:
        """The column with the largest part beyond a whole number; rips before strips."""
        rips = [at for _, _, at in self.relaxation.rips]
        strips = [at for _, _, _, at in self.relaxation.strips]
        for columns in (rips, strips):
            values = [(at, solved.values[at]) for at in columns if at < len(solved.values)]
            parts = [(value - floor(value + NEARLY), -at, value) for at, value in values]
            part, at, value = max(parts, default=(0.0, 0, 0.0))
            if part > NEARLY:
                return -at, value
        return None

    def _high(self, column: int) -> float:
        return self.bounds.get(column, (0.0, float("inf")))[1]

    def _bound(self, column: int, low: float, high: float) -> None:
        self.bounds[column] = (low, max(low, high))
        self.relaxation.model.bound_column(column, low, max(low, high))

    def _restore(self, before: Mapping[int, tuple[float, float]]) -> None:
        for column in set(self.bounds) - set(before):
            self.relaxation.model.bound_column(column, 0.0, float("inf"))
        for column, (low, high) in before.items():
            self.relaxation.model.bound_column(column, low, high)
        self.bounds = dict(before)


def _layout(relaxation: Relaxation, counts: Sequence[int], solved: Solved) -> Layout | None:
    """The whole strips laid into the whole rips; a blank that two strips hold is cut from one of them."""
    kerf = relaxation.task.kerf
    pieces = [list(size.pieces[:count]) for size, count in zip(relaxation.sizes, counts, strict=True)]
    rooms: dict[tuple[int, int], list[Sheet]] = defaultdict(list)
    sheets: list[Sheet] = []
    rips = [(number, rip) for number, rip, at in relaxation.rips for _ in range(_times(solved, at))]
    for number, rip in rips:
        if not pieces[number]:
            return None
        sheet = sheet_of(pieces[number].pop(0), kerf)
        sheets.append(sheet)
        for across, count in rip:
            rooms[sheet.piece.length, across] += [sheet] * count
    left = [list(group.items) for group in relaxation.groups]
    strips = [
        (length, across, strip)
        for length, across, strip, at in relaxation.strips
        for _ in range(_times(solved, at))
    ]
    for length, across, strip in strips:
        items = [
            left[group].pop(0) for group, count in strip.items() for _ in range(min(count, len(left[group])))
        ]
        if items and not rooms[length, across]:
            return None
        if items:
            row = rooms[length, across].pop().open_row(across, kerf)
            for item in items:
                row.lay(item, next(lie for lie in item.lies if lie.across == across), kerf)
    return None if any(left) else [sheet for sheet in sheets if sheet.rows]


def _times(solved: Solved, at: int) -> int:
    """How often a column is cut; one that is newer than the solution, never."""
    return round(solved.values[at]) if at < len(solved.values) else 0
