"""Whether some blanks go into some pieces: all ways to fill the strips in one whole-number model."""

from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from studio.craft.cutting.kinds import Kind, kinds_of, sizes_of, widths_of
from studio.craft.cutting.layout import Layout, Sheet, sheet_of
from studio.craft.cutting.patterns import Lying, Pattern, TooMany, patterns
from studio.craft.cutting.solver import Column, Model, Solved, Verdict
from studio.craft.cutting.task import Item, Piece, Task

MOST_PATTERNS = 12_000
MOST_NODES = 5_000


class Answer(Enum):
    """What came of the question."""

    FOUND = auto()
    IMPOSSIBLE = auto()
    OPEN = auto()  # too many ways to look at, or no time


@dataclass(frozen=True, slots=True)
class Fitted:
    """A layout where one was found; with `FOUND`, it holds all that was asked, or provably the most."""

    answer: Answer
    layout: Layout = ()


def fitted(task: Task, pieces: Sequence[Piece], seconds: float) -> Fitted:
    """All blanks of the task into these pieces."""
    try:
        model = _Fit(task, pieces, may_lack=False)
    except TooMany:
        return Fitted(Answer.OPEN)
    return model.answer(seconds)


def most_fitted(task: Task, must: Collection[int], seconds: float) -> Fitted:
    """As many blanks as possible into the pieces of the task, those at the places `must` among them."""
    try:
        model = _Fit(task, task.pieces, may_lack=True, must=must)
    except TooMany:
        return Fitted(Answer.OPEN)
    return model.answer(seconds)


class _Fit:
    def __init__(
        self, task: Task, pieces: Sequence[Piece], *, may_lack: bool, must: Collection[int] = ()
    ) -> None:
        self.task = task
        self.kinds = kinds_of(task)
        self.sizes = sizes_of(tuple(pieces))
        self.strips: list[tuple[int, int, Pattern, int]] = []
        self.rips: list[tuple[Piece, int, int]] = []
        self._filled = self._all_patterns(may_lack=may_lack)
        self._build(may_lack=may_lack, must=must)

    def _all_patterns(self, *, may_lack: bool) -> dict[tuple[int, int], list[Pattern]]:
        kerf = self.task.kerf
        widths = widths_of(self.task)
        waste = self._slack(widths) if not may_lack and len(widths) == 1 else None
        left = MOST_PATTERNS
        filled: dict[tuple[int, int], list[Pattern]] = {}
        for length in sorted({size.length for size in self.sizes}):
            widest = max(size.width for size in self.sizes if size.length == length)
            for across in widths:
                if across > widest:
                    continue
                lying = [
                    Lying(at, lie.along + kerf, len(kind.items))
                    for at, kind in enumerate(self.kinds)
                    for lie in kind.lies
                    if lie.across == across and lie.along <= length
                ]
                allowed = length + kerf if waste is None else waste
                filled[length, across] = patterns(lying, length + kerf, allowed, left) if lying else []
                left -= len(filled[length, across])
        return filled

    def _slack(self, widths: Sequence[int]) -> int:
        """With one width: how much all strips together are longer than what must go in."""
        kerf = self.task.kerf
        strips = sum(
            len(size.pieces) * ((size.width + kerf) // (widths[0] + kerf)) * (size.length + kerf)
            for size in self.sizes
        )
        return max(strips - sum(item.lies[0].along + kerf for item in self.task.items), 0)

    def _build(self, *, may_lack: bool, must: Collection[int]) -> None:
        kerf = self.task.kerf
        infinity = float("inf")
        first = len(self.kinds)
        row_of = {one: first + at for at, one in enumerate(self._filled)}
        pieces = [piece for size in self.sizes for piece in size.pieces]
        rows = [(float(len(kind.items)), infinity) for kind in self.kinds]
        rows += [(0.0, infinity) for _ in self._filled]
        rows += [(-infinity, float(piece.width + kerf)) for piece in pieces]
        columns: list[Column] = []
        for (length, across), ways in self._filled.items():
            for way in ways:
                entries = {kind: float(count) for kind, count in way}
                self.strips.append((length, across, way, len(columns)))
                columns.append(Column(0.0, entries | {row_of[length, across]: -1.0}, is_whole=True))
        for at, piece in enumerate(pieces):
            for (length, across), row in row_of.items():
                most = (piece.width + kerf) // (across + kerf)
                if length == piece.length and most:
                    self.rips.append((piece, across, len(columns)))
                    entries = {row: 1.0, first + len(row_of) + at: float(across + kerf)}
                    columns.append(Column(0.0, entries, high=float(most), is_whole=True))
        if may_lack:
            for at, kind in enumerate(self.kinds):
                free = sum(item.place not in must for item in kind.items)
                columns.append(Column(1.0, {at: 1.0}, high=float(free), is_whole=True))
        self._model = Model(rows, columns)

    def answer(self, seconds: float) -> Fitted:
        """Run the model and read it."""
        solved = self._model.solve(seconds, nodes=MOST_NODES)
        if solved.verdict is Verdict.IMPOSSIBLE:
            return Fitted(Answer.IMPOSSIBLE)
        if not solved.values:
            return Fitted(Answer.OPEN)
        layout = self._layout(solved)
        return Fitted(Answer.FOUND if solved.verdict is Verdict.OPTIMAL else Answer.OPEN, layout)

    def _layout(self, solved: Solved) -> list[Sheet]:
        """Lay the strips into the rips. A strip with more blanks than there are is cut without them."""
        kerf = self.task.kerf
        left = [list(kind.items) for kind in self.kinds]
        waiting: dict[tuple[int, int], list[Pattern]] = defaultdict(list)
        for length, across, way, at in self.strips:
            waiting[length, across] += [way] * round(solved.values[at])
        sheets: dict[int, Sheet] = {}
        for piece, across, at in self.rips:
            for _ in range(round(solved.values[at])):
                if not waiting[piece.length, across]:
                    break
                taken = self._taken(waiting[piece.length, across].pop(), left)
                if taken:
                    sheet = sheets.setdefault(piece.place, sheet_of(piece, kerf))
                    row = sheet.open_row(across, kerf)
                    for item, kind in taken:
                        lie = next(lie for lie in kind.lies if lie.across == across)
                        row.lay(item, lie, kerf)
        return list(sheets.values())

    def _taken(self, way: Pattern, left: list[list[Item]]) -> list[tuple[Item, Kind]]:
        return [
            (left[at].pop(0), self.kinds[at]) for at, count in way for _ in range(min(count, len(left[at])))
        ]
