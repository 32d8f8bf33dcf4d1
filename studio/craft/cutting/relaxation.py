"""The plan if strips and rips could be cut in fractions: its prices bound every plan, its rips guide them.

Two kinds of columns: a strip (of one length and width, with its blanks) and a rip (of one size of piece,
with its strips). Both are made when they are asked for: a knapsack finds the strip, and then the rip, that is
worth more at the prices so far than what it costs.
"""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from studio.craft.cutting.kinds import Kind, Size, kinds_of
from studio.craft.cutting.knapsack import Knapsack, copies, knapsack
from studio.craft.cutting.layout import Layout
from studio.craft.cutting.solver import Column, Model, Solved
from studio.craft.cutting.task import Item, Task

MOST_KINDS = 110
"""With more kinds of blanks than these, neighbours in length are taken as one."""
LACKING = 20.0
"""What a blank without a place costs, in areas of the largest piece."""
SMALL = 1e-7
ROUNDS = 400
EXACT_ROUNDS = 12
"""How often strips are sought in whole micrometres once the quick search finds none."""

Rip = tuple[tuple[int, int], ...]
"""How many strips of which width, side by side in a piece."""


@dataclass(frozen=True, slots=True)
class Relaxed:
    """Prices of the blanks by their place, and the rips by size number with how often they are cut."""

    prices: Mapping[int, float]
    rips: Sequence[tuple[int, Rip, float]]
    lacks: bool
    is_finished: bool


@dataclass(frozen=True, slots=True)
class _Group:
    """Blanks priced as one: what each takes along the strips of each width (with its kerf)."""

    items: tuple[Item, ...]
    along: Mapping[int, int]


@dataclass(slots=True)
class Relaxation:
    """The growing model of one task. Every piece costs its area, as a share of the largest."""

    task: Task
    sizes: Sequence[Size]
    groups: list[_Group] = field(init=False)
    model: Model = field(init=False)
    strips: list[tuple[int, int, Mapping[int, int], int]] = field(init=False, default_factory=list)
    """Length, width, how many of which group, and the number of the column."""
    rips: list[tuple[int, Rip, int]] = field(init=False, default_factory=list)
    """The number of the size, the rip, and the number of the column."""
    _rows: dict[tuple[int, int], int] = field(init=False)
    _known: set[object] = field(init=False, default_factory=set)
    _is_free: bool = field(init=False, default=False)

    def __post_init__(self) -> None:
        self.groups = _groups(self.task)
        widths = {across for group in self.groups for across in group.along}
        lengths = {size.length: size.width for size in sorted(self.sizes, key=lambda one: one.width)}
        first = len(self.groups)
        classes = [
            (length, across)
            for length, widest in sorted(lengths.items())
            for across in sorted(widths)
            if across <= widest
        ]
        self._rows = {one: first + at for at, one in enumerate(classes)}
        infinity = float("inf")
        rows = [
            *((float(len(group.items)), infinity) for group in self.groups),
            *((0.0, infinity) for _ in classes),
            *((-infinity, float(len(size.pieces))) for size in self.sizes),
        ]
        self.model = Model(rows, [Column(LACKING, {at: 1.0}) for at in range(len(self.groups))])

    def _cost(self, size: Size) -> float:
        return 0.0 if self._is_free else size.area / max(one.area for one in self.sizes)

    @property
    def is_true(self) -> bool:
        """Whether every kind of blank is known by itself, so that whole strips can be cut as they are."""
        return len(self.groups) == len(kinds_of(self.task))

    def begin(self, layout: Layout) -> None:
        """Start from the strips and rips of a layout, so that the first prices make sense."""
        group_of = {item.place: at for at, group in enumerate(self.groups) for item in group.items}
        number_of = {(size.length, size.width): at for at, size in enumerate(self.sizes)}
        for sheet in layout:
            rip: dict[int, int] = defaultdict(int)
            for row in sheet.rows:
                rip[row.across] += 1
                strip: dict[int, int] = defaultdict(int)
                for item, _ in row.laid:
                    strip[group_of[item.place]] += 1
                self._add_strip(sheet.piece.length, row.across, strip)
            if rip:
                number = number_of[sheet.piece.length, sheet.piece.width]
                self._add_rip(number, tuple(sorted(rip.items())))

    def only(self, counts: Sequence[float]) -> None:
        """From now on only so many pieces of each size, at no cost: what is asked is whether all goes in."""
        self._is_free = True
        for _, _, at in self.rips:
            self.model.price_column(at, 0.0)
        first = len(self.groups) + len(self._rows)
        for number, count in enumerate(counts):
            self.model.bound_row(first + number, -float("inf"), float(count))

    def solve(self, seconds_left: Callable[[], float], rounds: int = ROUNDS) -> Relaxed:
        """Add columns until none is worth adding, the rounds are used up, or the time is."""
        solved, is_finished = self.refined(seconds_left, rounds, until_all=False)
        return self._relaxed(solved, is_finished=is_finished)

    def refined(
        self, seconds_left: Callable[[], float], rounds: int, *, until_all: bool
    ) -> tuple[Solved, bool]:
        """The model solved with columns added, and whether none more is worth adding.

        With `until_all` it is enough that every blank has its place.
        """
        solved = self.model.solve(seconds_left(), is_primal=True)
        exact = 0
        for _ in range(rounds):
            if not solved.prices or seconds_left() <= 0 or (until_all and not self.lacks(solved)):
                return solved, False
            if not self._grown(solved):
                exact += 1
                if exact > EXACT_ROUNDS:
                    return solved, False
                if not self._grown(solved, is_exact=True):
                    return solved, True
            again = self.model.solve(seconds_left(), is_primal=True)
            if not again.prices:
                return solved, False
            solved = again
        return solved, False

    def lacks(self, solved: Solved) -> bool:
        """Whether some blank has no place, not even in parts."""
        return any(value > 1e-6 for value in solved.values[: len(self.groups)])

    def prices(self, solved: Solved) -> dict[int, float]:
        """What each blank is worth, by its place."""
        return {
            item.place: max(solved.prices[at], 0.0) if solved.prices else 0.0
            for at, group in enumerate(self.groups)
            for item in group.items
        }

    def _relaxed(self, solved: Solved, *, is_finished: bool) -> Relaxed:
        rips = [(size, rip, solved.values[at]) for size, rip, at in self.rips if at < len(solved.values)]
        return Relaxed(
            self.prices(solved), [one for one in rips if one[2] > 1e-6], self.lacks(solved), is_finished
        )

    def _grown(self, solved: Solved, *, is_exact: bool = False) -> bool:
        """Add the strips and rips worth more than they cost. Whether there were any."""
        prices = solved.prices
        best: dict[tuple[int, int], float] = {}
        grown = False
        for across in sorted({across for _, across in self._rows}):
            held, bundles = self._priced(across, prices, is_exact=is_exact)
            for length, width in self._rows:
                if width != across:
                    continue
                value, strip = self._dearest(held, bundles, across, length, prices)
                price = prices[self._rows[length, across]]
                best[length, across] = max(value, price)
                if value > price + SMALL:
                    grown |= self._add_strip(length, across, strip)
        first = len(self.groups) + len(self._rows)
        for number, size in enumerate(self.sizes):
            value, rip = self._dearest_rip(size, best, is_exact=is_exact)
            if value > self._cost(size) - prices[first + number] + SMALL:
                grown |= self._add_rip(number, rip)
        return grown

    def _priced(
        self, across: int, prices: Sequence[float], *, is_exact: bool
    ) -> tuple[Knapsack, list[tuple[int, int]]]:
        longest = max(length for length, width in self._rows if width == across) + self.task.kerf
        bundles = [
            (at, bundle)
            for at, group in enumerate(self.groups)
            if across in group.along and prices[at] > 0
            for bundle in copies(min(len(group.items), longest // group.along[across]))
        ]
        sizes = [self.groups[at].along[across] * bundle for at, bundle in bundles]
        values = [prices[at] * bundle for at, bundle in bundles]
        return knapsack(sizes, values, longest, is_exact=is_exact), bundles

    def _dearest(
        self,
        held: Knapsack,
        bundles: Sequence[tuple[int, int]],
        across: int,
        length: int,
        prices: Sequence[float],
    ) -> tuple[float, dict[int, int]]:
        """The dearest strip; where rounding let it grow too long, the cheapest of it is left off."""
        strip: dict[int, int] = defaultdict(int)
        for at in held.places(length + self.task.kerf):
            strip[bundles[at][0]] += bundles[at][1]
        used = sum(self.groups[at].along[across] * count for at, count in strip.items())
        while used > length + self.task.kerf:
            cheapest = min(strip, key=lambda at: (prices[at], at))
            strip[cheapest] -= 1
            used -= self.groups[cheapest].along[across]
            if not strip[cheapest]:
                del strip[cheapest]
        return sum(prices[at] * count for at, count in strip.items()), strip

    def _dearest_rip(
        self, size: Size, values: Mapping[tuple[int, int], float], *, is_exact: bool
    ) -> tuple[float, Rip]:
        kerf = self.task.kerf
        bundles = [
            (across, bundle)
            for length, across in self._rows
            if length == size.length and across <= size.width and values[length, across] > 0
            for bundle in copies((size.width + kerf) // (across + kerf))
        ]
        held = knapsack(
            [(across + kerf) * bundle for across, bundle in bundles],
            [values[size.length, across] * bundle for across, bundle in bundles],
            size.width + kerf,
            is_exact=is_exact,
        )
        rip: dict[int, int] = defaultdict(int)
        for at in held.places(size.width + kerf):
            rip[bundles[at][0]] += bundles[at][1]
        while sum((across + kerf) * count for across, count in rip.items()) > size.width + kerf:
            narrowest = min(rip)
            rip[narrowest] -= 1
            if not rip[narrowest]:
                del rip[narrowest]
        return sum(values[size.length, across] * count for across, count in rip.items()), tuple(
            sorted(rip.items())
        )

    def _add_strip(self, length: int, across: int, strip: Mapping[int, int]) -> bool:
        key = (length, across, tuple(sorted(strip.items())))
        if key in self._known or not strip:
            return False
        self._known.add(key)
        entries = {at: float(count) for at, count in strip.items()}
        at = self.model.add(Column(0.0, entries | {self._rows[length, across]: -1.0}))
        self.strips.append((length, across, dict(strip), at))
        return True

    def _add_rip(self, number: int, rip: Rip) -> bool:
        if (number, rip) in self._known or not rip:
            return False
        self._known.add((number, rip))
        size = self.sizes[number]
        entries = {self._rows[size.length, across]: float(count) for across, count in rip}
        limit = len(self.groups) + len(self._rows) + number
        at = self.model.add(Column(self._cost(size), entries | {limit: 1.0}))
        self.rips.append((number, rip, at))
        return True


def _groups(task: Task) -> list[_Group]:
    """Kinds as they are while they are few; else neighbours in length together, as long as their mean."""
    kinds = kinds_of(task)
    if len(kinds) <= MOST_KINDS:
        return [
            _Group(kind.items, {lie.across: lie.along + task.kerf for lie in kind.lies}) for kind in kinds
        ]
    by_width: dict[int, list[Kind]] = defaultdict(list)
    for kind in sorted(kinds, key=lambda one: (one.lies[0].along, one.items[0].place)):
        by_width[kind.lies[0].across].append(kind)
    many = max(1, MOST_KINDS // len(by_width))
    groups = []
    for alike in by_width.values():
        each = -(-len(alike) // many)
        groups += [_merged(alike[at : at + each], task.kerf) for at in range(0, len(alike), each)]
    return groups


def _merged(kinds: Sequence[Kind], kerf: int) -> _Group:
    items = tuple(item for kind in kinds for item in kind.items)
    mean = sum(item.lies[0].along for item in items) // len(items)
    return _Group(items, {kinds[0].lies[0].across: mean + kerf})
