"""Blanks and pieces of a task gathered by size: what the models count."""

from collections import defaultdict
from dataclasses import dataclass

from studio.craft.cutting.task import Item, Lie, Piece, Task


@dataclass(frozen=True, slots=True)
class Kind:
    """Equal blanks, the earliest first."""

    lies: tuple[Lie, ...]
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Size:
    """Equal pieces, offcuts first."""

    length: int
    width: int
    pieces: tuple[Piece, ...]

    @property
    def area(self) -> int:
        """Of one piece."""
        return self.length * self.width


def kinds_of(task: Task) -> list[Kind]:
    """The blanks of a task by kind, in the order of the list."""
    found: dict[tuple[Lie, ...], list[Item]] = defaultdict(list)
    for item in task.items:
        found[item.lies].append(item)
    return [Kind(lies, tuple(items)) for lies, items in found.items()]


def sizes_of(pieces: tuple[Piece, ...]) -> list[Size]:
    """The pieces by size, the smallest first."""
    found: dict[tuple[int, int], list[Piece]] = defaultdict(list)
    for piece in sorted(pieces, key=lambda one: (not one.stock.is_offcut, one.place)):
        found[piece.length, piece.width].append(piece)
    sizes = [Size(length, width, tuple(equal)) for (length, width), equal in found.items()]
    return sorted(sizes, key=lambda size: (size.area, size.length))


def widths_of(task: Task) -> list[int]:
    """Every width a strip may have."""
    return sorted({lie.across for item in task.items for lie in item.lies})
