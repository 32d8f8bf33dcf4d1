"""A planning task spelt out: every single blank and every single piece, with the kerf between neighbours."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from studio.craft.cutting.values import Blank, Stock, WhyUnplaced


@dataclass(frozen=True, slots=True)
class Lie:
    """One way a blank may lie in a piece: what it takes along the strip, and across it."""

    along: int
    across: int
    is_turned: bool


@dataclass(frozen=True, slots=True)
class Item:
    """One single blank; `place` is its place in the list, the earliest due first."""

    place: int
    blank: str
    lies: tuple[Lie, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """One single piece of stock; `place` is its place in the list, one copy after the other."""

    place: int
    stock: Stock

    @property
    def length(self) -> int:
        """Along the rolling direction, in micrometres."""
        return self.stock.length_um

    @property
    def width(self) -> int:
        """Across it, in micrometres."""
        return self.stock.width_um

    @property
    def area(self) -> int:
        """Length times width, in square micrometres."""
        return self.stock.area_um2


@dataclass(frozen=True)
class Task:
    """All blanks that go into some piece, all pieces that take some blank, and the kerf."""

    items: tuple[Item, ...]
    pieces: tuple[Piece, ...]
    kerf: int
    never: tuple[tuple[int, str, WhyUnplaced], ...] = field(default=())
    """Blanks that go into no piece: place in the list, name, and why."""

    @cached_property
    def by_place(self) -> dict[int, Item]:
        """The items by their place in the list."""
        return {item.place: item for item in self.items}

    def only(self, places: Sequence[int]) -> "Task":
        """The same pieces, for some of the blanks."""
        wanted = set(places)
        return Task(tuple(item for item in self.items if item.place in wanted), self.pieces, self.kerf)


def task_of(stock: Sequence[Stock], blanks: Sequence[Blank], kerf: int) -> Task:
    """The task with counts spelt out. No more copies of a piece are kept than there are blanks."""
    wanted = sum(blank.count for blank in blanks)
    singles = [one for one in stock for _ in range(min(one.count, wanted))]
    pieces = [Piece(place, one) for place, one in enumerate(singles)]
    items: list[Item] = []
    never: list[tuple[int, str, WhyUnplaced]] = []
    place = 0
    for blank in blanks:
        lies = tuple(lie for lie in _lies(blank) if any(_goes_into(lie, one) for one in stock))
        why = None if lies else _why_never(blank, stock)
        for _ in range(blank.count):
            if why is None:
                items.append(Item(place, blank.id, lies))
            else:
                never.append((place, blank.id, why))
            place += 1
    used = [
        piece
        for piece in pieces
        if any(_goes_into(lie, piece.stock) for lie in {lie for item in items for lie in item.lies})
    ]
    return Task(tuple(items), tuple(used), kerf, tuple(never))


def _lies(blank: Blank) -> list[Lie]:
    lies = [Lie(blank.length_um, blank.width_um, is_turned=False)]
    if blank.may_turn and blank.length_um != blank.width_um:
        lies.append(Lie(blank.width_um, blank.length_um, is_turned=True))
    return lies


def _goes_into(lie: Lie, stock: Stock) -> bool:
    return lie.along <= stock.length_um and lie.across <= stock.width_um


def _why_never(blank: Blank, stock: Sequence[Stock]) -> WhyUnplaced:
    lies = _lies(blank)
    if not stock:
        return WhyUnplaced.NO_STOCK
    if not any(lie.along <= one.length_um for lie in lies for one in stock):
        return WhyUnplaced.TOO_LONG
    if not any(lie.across <= one.width_um for lie in lies for one in stock):
        return WhyUnplaced.TOO_WIDE
    return WhyUnplaced.TOO_LARGE
