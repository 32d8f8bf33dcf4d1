"""The least area for blanks that are known to go in: choose pieces, fill them, and learn from what fails."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from studio.craft.cutting.bound import by_material, by_prices
from studio.craft.cutting.choice import Choice, Chosen
from studio.craft.cutting.crowd import Crowd
from studio.craft.cutting.diving import dived
from studio.craft.cutting.exact import Answer, fitted
from studio.craft.cutting.guided import guided
from studio.craft.cutting.kinds import sizes_of, widths_of
from studio.craft.cutting.layout import Layout, laid_items
from studio.craft.cutting.packing import NEXT_TO_NOTHING, Pool, areas, filled, squeezed
from studio.craft.cutting.relaxation import Relaxation
from studio.craft.cutting.search import Search
from studio.craft.cutting.task import Piece, Task

SPARES = (
    0.001, 0.002, 0.004, 0.007, 0.01, 0.015, 0.02, 0.03, 0.04, 0.05, 0.065, 0.08, 0.1, 0.12, 0.15, 0.2
)  # fmt: skip
"""Shares of room beyond the demands that choices are tried with once the barest does not take all blanks."""

FIRST_SPARE = 5
FIRST_SPARES = (0.02, 0.08, 0.2)
"""What is tried at once, so that a good plan stands early."""
MOST_LEARNT = 120
"""With more blanks than these, room to spare is tried first."""
MOST_LEARNT_OF_ONE_WIDTH = 300
MOST_TRIED = 300
"""With more blanks than these few ways of filling are tried, and the relaxation says how."""
ROUNDS = 200


def least_area(search: Search) -> None:
    """Better the layout of the search at the same blanks, and raise its bound."""
    places = [item.place for item in laid_items(search.best)]
    if places:
        _LeastArea(search, search.task.only(places)).run()


@dataclass
class _LeastArea:
    search: Search
    task: Task
    choice: Choice = field(init=False)
    values: Mapping[int, float] = field(init=False)
    relaxation: Relaxation | None = field(init=False, default=None)
    is_open: bool = field(init=False, default=False)
    """Whether a choice was ruled out that might have done: from then on the bound stays."""

    given_up: list[tuple[int, ...]] = field(init=False, default_factory=list)

    def __post_init__(self) -> None:
        sizes = sizes_of(self.task.pieces)
        self.choice = Choice(sizes, [by_material(self.task, sizes)])
        self.values = areas(self.task)
        self.is_one_width = len(widths_of(self.task)) == 1
        self.is_crowd = len(self.task.items) > MOST_TRIED
        self.random = Random(len(self.task.items))  # noqa: S311  the same choices every time, no secret

    def left(self) -> float:
        """Seconds of the search that are left."""
        return self.search.budget.left()

    def run(self) -> None:
        """The least area, and of that area few fresh pieces."""
        if self.is_crowd and not self.is_one_width:
            Crowd(self.search, self.task, self.choice, self.random, self.left).run()
        else:
            self._seek()
            self._again()
        self._kinder()

    def _again(self) -> None:
        """Without a proof: choices given up before, and others with a little room, filled by chance."""
        for number in range(ROUNDS):
            above = self.search.area / self.search.bound - 1 if self.search.bound else 1.0
            if self.left() <= 0 or above <= 0:
                return
            given_up = [counts for counts in self.given_up if self.choice.area(counts) < self.search.area]
            if given_up and number % 3 != 2:
                counts = given_up[(number // 3) % len(given_up)]
            else:
                spare = self.random.uniform(0.2, 0.9) * above
                chosen = self.choice.cheapest(self.left(), self.search.area, spare)
                if chosen is None or chosen.area >= self.search.area:
                    continue
                counts = chosen.counts
            layout = self._filled(self.choice.pieces(counts), by_chance=True)
            if layout is None and self.relaxation is not None and self.relaxation.is_true and number % 3 == 0:
                self.relaxation.only(counts)
                layout = dived(self.relaxation, counts, self.left, 20 + number)
            if layout is not None:
                self.search.offer(layout)

    def _kinder(self) -> None:
        """The same area from offcuts rather than fresh pieces, where such a choice can be filled."""
        opened = [sheet.piece.stock for sheet in self.search.best]
        if self.left() <= 0 or all(one.is_offcut for one in opened):
            return
        if not any(piece.stock.is_offcut for piece in self.task.pieces):
            return
        chosen = self.choice.kindest(min(self.left(), 0.3), self.search.area)
        layout = self._filled(self.choice.pieces(chosen.counts)) if chosen else None
        if layout is not None:
            self.search.offer(layout)

    def _seek(self) -> None:
        """Choose the least area, fill it; demand more where that fails, or look with room to spare."""
        if self._tried(0.0, is_first=True) is None:
            return
        for spare in FIRST_SPARES:
            if self._tried(spare) is not False:
                break
        self._relax()
        if len(self.task.items) <= (MOST_LEARNT_OF_ONE_WIDTH if self.is_one_width else MOST_LEARNT):
            for _ in range(3):
                if self._tried(0.0) is None:
                    return
        self._with_spare()
        for _ in range(ROUNDS):
            if self._tried(0.0) is None or (self.is_open and not self.choice.can_rule_out):
                return

    def _tried(self, spare: float, *, is_first: bool = False) -> bool | None:
        """One choice filled, or learnt from. None where nothing is left to be won or to be spent."""
        if self.left() <= 0:
            return None
        chosen = self.choice.cheapest(self.left(), self.search.area, spare)
        if chosen is None:
            return None
        if spare == 0.0 and not self.is_open:
            self.search.raise_bound(chosen.least)
        if chosen.area >= self.search.area:
            return None
        pieces = self.choice.pieces(chosen.counts)
        layout = (self._guided(chosen, pieces) if self.is_one_width else None) or self._filled(pieces)
        if layout is not None:
            self.search.offer(layout)
            return None if spare == 0.0 else True
        if not is_first and spare == 0.0 and self._learn(chosen, pieces):
            return None
        return False

    def _filled(self, pieces: Sequence[Piece], *, by_chance: bool = False) -> Layout | None:
        """All blanks in these pieces, by a number of ways of filling."""
        tries = 2 if self.is_crowd else 24
        allowance = self._allowance(pieces)
        pieces = sorted(pieces, key=lambda piece: (piece.length, piece.width, piece.place))
        for number in range(2, tries + 2) if by_chance else range(tries):
            if self.left() <= 0:
                return None
            order = list(pieces)
            if number == 1:
                order.reverse()
            elif number > 1:
                self.random.shuffle(order)
            random = self.random if number > 1 else None
            sheets, left = filled(self.task, order, self.values, random, allowance)
            opened = {sheet.piece.place for sheet in sheets}
            empty = [piece for piece in order if piece.place not in opened]
            if left and not empty:
                left = squeezed(sheets, left, self.task.kerf, 600)
            if not left:
                return sheets
        return None

    def _guided(self, chosen: Chosen, pieces: Sequence[Piece]) -> Layout | None:
        """All blanks in these pieces, cut as the relaxation of these pieces says."""
        if self.relaxation is None or len(self.task.items) <= MOST_TRIED:
            return None
        self.relaxation.only(chosen.counts)
        solved, _ = self.relaxation.refined(self.left, 40, until_all=True)
        if not solved.values:
            return None
        pool = Pool(self.task, self.values, None, self._allowance(pieces))
        sheets, left = guided(self.relaxation, solved, pieces, pool)
        return None if squeezed(sheets, left, self.task.kerf, 2000) else sheets

    def _allowance(self, pieces: Sequence[Piece]) -> int:
        """What a strip may leave over, where there is one width: half its share of what all leave."""
        widths = widths_of(self.task)
        if len(widths) > 1:
            return NEXT_TO_NOTHING
        kerf = self.task.kerf
        strips = [(piece.width + kerf) // (widths[0] + kerf) for piece in pieces]
        room = sum(count * (piece.length + kerf) for count, piece in zip(strips, pieces, strict=True))
        need = sum(item.lies[0].along + kerf for item in self.task.items)
        return max(room - need, 0) // (2 * sum(strips))

    def _relax(self) -> None:
        """Learn prices from the relaxation of all pieces."""
        if self.left() <= 0:
            return
        self.relaxation = Relaxation(self.task, self.choice.sizes)
        self.relaxation.begin(self.search.best)
        self._priced(self.relaxation.solve(self.left).prices)

    def _priced(self, prices: Mapping[int, float]) -> None:
        if not any(prices.values()):
            return
        self.choice.demands.append(by_prices(self.task, self.choice.sizes, prices))
        plain = areas(self.task)
        share = max(prices.values()) / max(plain.values()) * 0.01
        self.values = {place: price + share * plain[place] for place, price in prices.items()}

    def _learn(self, chosen: Chosen, pieces: Sequence[Piece]) -> bool:
        """Whether it could be filled after all; else a demand it does not meet, or it alone is ruled out."""
        if self.relaxation is not None:
            self.relaxation.only(chosen.counts)
            relaxed = self.relaxation.solve(self.left, 60)
            if relaxed.lacks:
                demand = by_prices(self.task, self.choice.sizes, relaxed.prices)
                held = sum(hold * count for hold, count in zip(demand.holds, chosen.counts, strict=True))
                if held < demand.need * (1 - 1e-6):
                    self.choice.demands.append(demand)
                    return False
            elif self.relaxation.is_true:
                layout = dived(self.relaxation, chosen.counts, self.left)
                if layout is not None:
                    self.search.offer(layout)
                    return True
        answer = fitted(self.task, pieces, self.left() if self.is_one_width else min(self.left(), 0.7))
        if answer.answer is Answer.FOUND:
            self.search.offer(answer.layout)
            return True
        if answer.answer is Answer.OPEN:
            self.given_up.append(chosen.counts)
        self.is_open |= answer.answer is Answer.OPEN or not self.choice.can_rule_out
        self.choice.ruled_out.append(chosen.counts)
        return False

    def _with_spare(self) -> None:
        """Choices with room to spare, halving the steps between what could be filled and what not."""
        low, high, at = 0, len(SPARES), FIRST_SPARE
        while low < high and self.left() > 0:
            done = self._tried(SPARES[at])
            if done is False:
                low = at + 1
            else:
                high = at
            at = (low + high) // 2
