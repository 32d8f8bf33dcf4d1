"""A crowd of blanks of several widths: too many to choose one by one, enough to fill strips to the last.

Two ways, and each layout that is better is offered. Either pieces with a little room to spare are filled one
after the other, and a few at a time are mended. Or pieces and strips are chosen together, and each width is
put into its strips as the relaxation of these strips says. Where they cannot hold a width even in parts (too
many strips of a length that only few of its blanks make full), its prices are one more demand on the next
choice. With many widths there are too many ways to rip a piece for the second way to come near.
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import floor
from random import Random

from studio.craft.cutting.choice import Choice
from studio.craft.cutting.gathering import gathered
from studio.craft.cutting.guided import NEARLY, cut_strip
from studio.craft.cutting.kinds import Size
from studio.craft.cutting.layout import Layout, Row, Sheet, opened_area
from studio.craft.cutting.mending import mended
from studio.craft.cutting.packing import NEXT_TO_NOTHING, Pool, areas, filled, squeezed
from studio.craft.cutting.relaxation import Relaxation
from studio.craft.cutting.ripping import Class, ripped, rips_of, strips_in_parts
from studio.craft.cutting.search import Search
from studio.craft.cutting.solver import Solved
from studio.craft.cutting.task import Item, Piece, Task

FEW_WIDTHS = 4
"""Up to so many widths pieces and strips are chosen together."""
FIRST_SPARE = 0.008
"""Share of room beyond what the blanks take, for the first pieces that are filled."""
MORE, LESS = 1.3, 0.7
MENDS, MOST_MENDED = 120, 0.02
"""So many times a few pieces are filled anew where at most this share of all blanks is left over."""
TRIES = 1000

STRIPS_SPARE, LEAST_SPARE, MORE_STRIPS = 0.0045, 0.0008, 1.4
"""The same share for strips that are chosen with their pieces."""
WITHIN = 0.5
"""Seconds for one such choice."""
EASY = 0.002
"""By this share fewer strips must do in parts, so that they do in whole blanks."""
IN_PARTS = 3
"""So often it is looked first whether strips in parts would do."""
GATHERED, MENDED = 4000, 30
MOST_ROUNDS = 60


@dataclass
class Crowd:
    """A search that goes on until its time is over or nothing is left to be won."""

    search: Search
    task: Task
    choice: Choice
    random: Random
    left: Callable[[], float]
    values: Mapping[int, float] = field(init=False)
    prices: list[Mapping[int, float]] = field(init=False, default_factory=list)
    """Learnt: each prices the blanks of one width."""
    alone: dict[int, Relaxation] = field(init=False)
    """Of each width by itself, in strips of every length there is."""
    solved: dict[int, Solved] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.values = areas(self.task)
        self.widths = sorted({item.lies[0].across for item in self.task.items})
        self.alone = {}

    def run(self) -> None:
        """Better the layout of the search, and raise its bound."""
        chosen = self.choice.cheapest(self.left(), self.search.area, is_quick=True)
        if chosen is None:
            return
        self.search.raise_bound(chosen.least)
        if len(self.widths) > FEW_WIDTHS:
            self._pieces(TRIES, MENDS)
        else:
            self._pieces(1, MENDED)
            self._strips()

    @property
    def above(self) -> float:
        """By what share the best layout may still be too large."""
        return self.search.area / self.search.bound - 1 if self.search.bound else 1.0

    def _pieces(self, tries: int, mends: int) -> None:
        """Pieces with less and less room to spare; more where they do not take all blanks."""
        spare = FIRST_SPARE
        for _ in range(tries):
            if self.left() <= 0 or self.above <= 0:
                return
            chosen = self.choice.cheapest(self.left(), self.search.area, spare)
            layout = None
            if chosen is not None and chosen.area < self.search.area:
                layout = self._packed(self.choice.pieces(chosen.counts), mends)
            if layout is not None:
                self.search.offer(layout)
                spare = min(spare, self.above) * LESS
            else:
                spare *= MORE
            if spare >= 0.95 * self.above:
                spare = self.random.uniform(0.4, 0.9) * self.above

    def _packed(self, pieces: Sequence[Piece], mends: int) -> Layout | None:
        """All blanks in these pieces, filled from the smallest or from the largest, and mended."""
        pieces = sorted(pieces, key=lambda piece: (piece.length, piece.width, piece.place))
        found: list[tuple[float, list[Sheet], list[Item]]] = []
        for order in (pieces, pieces[::-1]):
            sheets, left = filled(self.task, order, self.values)
            if left and len(sheets) == len(pieces):
                left = squeezed(sheets, left, self.task.kerf, 600)
            if not left:
                return sheets
            if self.left() <= 0:
                return None
            found.append((sum(self.values[item.place] for item in left), sheets, left))
        worth, sheets, left = min(found, key=lambda one: one[0])
        if worth > MOST_MENDED * sum(self.values.values()):
            return None
        return self._mended(sheets, left, pieces, mends)

    def _mended(
        self, sheets: Sequence[Sheet], left: list[Item], pieces: Sequence[Piece], rounds: int
    ) -> Layout | None:
        return mended(
            self.task, sheets, left, pieces, values=self.values, random=self.random, rounds=rounds,
            seconds_left=self.left,
        )  # fmt: skip

    def _strips(self) -> None:
        """Pieces and strips chosen together, each time with what was learnt before."""
        spare = STRIPS_SPARE
        sizes = self.choice.sizes
        rips = rips_of(self.task, sizes)
        for _ in range(IN_PARTS):
            parts = strips_in_parts(self.task, sizes, rips, self.prices, spare=spare, seconds=self.left())
            if not self._lacks(parts, spare):
                break
        for number in range(TRIES):
            if self.left() <= 0 or self.above <= 0:
                return
            sheets = ripped(
                self.task,
                sizes,
                rips,
                self.prices,
                spare=spare,
                seconds=min(WITHIN, self.left()),
                seed=number,
            )
            if sheets is None or opened_area(sheets) >= self.search.area:
                spare = spare * LESS if spare > LEAST_SPARE else STRIPS_SPARE / 2
                continue
            strips = Counter((sheet.piece.length, row.across) for sheet in sheets for row in sheet.rows)
            if self._lacks(strips, EASY):
                continue
            layout = self._laid(sheets)
            if layout is not None:
                self.search.offer(layout)
                spare *= LESS
            else:
                spare *= MORE_STRIPS

    def _lacks(self, strips: Mapping[Class, float], spare: float) -> bool:
        """Whether these strips cannot hold some width even in parts; its prices are learnt."""
        lacks = False
        for across in self.widths:
            if self.left() <= 0:
                break
            relaxation = self._alone(across)
            counts = [strips.get((size.length, across), 0.0) / (1 + spare) for size in relaxation.sizes]
            relaxation.only(counts)
            self.solved[across], _ = relaxation.refined(self.left, MOST_ROUNDS, until_all=True)
            if relaxation.lacks(self.solved[across]):
                self.prices.append(relaxation.prices(self.solved[across]))
                lacks = True
        return lacks

    def _alone(self, across: int) -> Relaxation:
        if across not in self.alone:
            items = tuple(item for item in self.task.items if item.lies[0].across == across)
            lengths = sorted({size.length for size in self.choice.sizes if size.width >= across})
            sizes = [Size(length, across, ()) for length in lengths]
            self.alone[across] = Relaxation(Task(items, (), self.task.kerf), sizes)
        return self.alone[across]

    def _laid(self, sheets: list[Sheet]) -> Layout | None:
        """All blanks in these strips: what the relaxations cut whole times, then the rest as it comes."""
        pool = Pool(self.task, self.values, None, NEXT_TO_NOTHING)
        waiting: dict[Class, list[Row]] = defaultdict(list)
        for sheet in sheets:
            for row in sheet.rows:
                waiting[sheet.piece.length, row.across].append(row)
        for across, relaxation in self.alone.items():
            values = self.solved[across].values
            known = [strip for strip in relaxation.strips if strip[-1] < len(values)]
            for length, _, strip, at in sorted(known, key=lambda one: (-values[one[-1]], one[-1])):
                for _ in range(floor(values[at] + NEARLY)):
                    if waiting[length, across]:
                        cut_strip(waiting[length, across].pop(), strip, relaxation, pool)
        for (length, _), rows in sorted(waiting.items()):
            for row in rows:
                pool.fill_row(row, length)
        pieces = [sheet.piece for sheet in sheets]
        left = gathered(
            sheets, list(pool.left.values()), self.task.kerf, random=self.random, rounds=GATHERED,
            seconds_left=self.left,
        )  # fmt: skip
        return self._mended(sheets, left, pieces, MENDED) if left else sheets
