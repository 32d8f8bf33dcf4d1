"""Exact enumeration, for a handful of blanks on a handful of pieces: every set, every choice, every lie."""

from collections.abc import Iterator, Sequence
from itertools import combinations, product
from math import prod

from studio.craft.cutting.kinds import sizes_of
from studio.craft.cutting.layout import Layout, Row, Sheet, sheet_of
from studio.craft.cutting.task import Item, Piece, Task

MOST_BLANKS = 6
MOST_CHOICES = 500


def is_small(task: Task) -> bool:
    """Whether everything can be looked at in a moment."""
    choices = prod(len(size.pieces) + 1 for size in sizes_of(task.pieces))
    return len(task.items) <= MOST_BLANKS and choices <= MOST_CHOICES


def best_small(task: Task) -> Layout:
    """The plan that no other betters: most blanks, the earlier ones, least area, least of it fresh."""
    choices = list(_choices(task))
    everything = choices[-1]
    for count in range(len(task.items), 0, -1):
        for items in combinations(task.items, count):
            if laid_out(items, everything, task.kerf) is None:
                continue
            for pieces in choices:
                layout = laid_out(items, pieces, task.kerf)
                if layout is not None:
                    return layout
    return ()


def laid_out(items: Sequence[Item], pieces: Sequence[Piece], kerf: int) -> Layout | None:
    """All of these blanks in these pieces, or None where that cannot be."""
    room = sum((piece.length + kerf) * (piece.width + kerf) for piece in pieces)
    if sum((item.lies[0].along + kerf) * (item.lies[0].across + kerf) for item in items) > room:
        return None
    in_order = sorted(items, key=lambda item: (-item.lies[0].along * item.lies[0].across, item.place))
    sheets = [sheet_of(piece, kerf) for piece in pieces]
    return sheets if _laid(in_order, sheets, kerf) else None


def _choices(task: Task) -> Iterator[list[Piece]]:
    """Every choice of pieces, the least area first, offcuts before fresh ones; all pieces last."""
    sizes = sizes_of(task.pieces)
    every = [
        [piece for size, count in zip(sizes, counts, strict=True) for piece in size.pieces[:count]]
        for counts in product(*(range(len(size.pieces) + 1) for size in sizes))
    ]
    return iter(sorted(every, key=_cost))


def _cost(pieces: Sequence[Piece]) -> tuple[int, int]:
    fresh = sum(piece.area for piece in pieces if not piece.stock.is_offcut)
    return sum(piece.area for piece in pieces), fresh


def _laid(items: Sequence[Item], sheets: Sequence[Sheet], kerf: int) -> bool:
    """Lay the first blank wherever it can lie, then the others; leave all as it was where that fails."""
    if not items:
        return True
    item, others = items[0], items[1:]
    for lie in item.lies:
        tried: set[tuple[object, ...]] = set()
        for sheet in sheets:
            for row in sheet.rows:
                if row.across == lie.across and row.room >= lie.along + kerf:
                    row.lay(item, lie, kerf)
                    if _laid(others, sheets, kerf):
                        return True
                    row.laid.pop()
                    row.room += lie.along + kerf
            if _is_new(sheet, tried) and sheet.room >= lie.across + kerf and sheet.piece.length >= lie.along:
                sheet.open_row(lie.across, kerf).lay(item, lie, kerf)
                if _laid(others, sheets, kerf):
                    return True
                sheet.rows.pop()
                sheet.room += lie.across + kerf
    return False


def _is_new(sheet: Sheet, tried: set[tuple[object, ...]]) -> bool:
    """Whether no piece of the same size, cut in the same way, was tried before."""
    key = (sheet.piece.length, sheet.piece.width, tuple(_key(row) for row in sheet.rows))
    if key in tried:
        return False
    tried.add(key)
    return True


def _key(row: Row) -> tuple[int, int]:
    return row.across, row.room
