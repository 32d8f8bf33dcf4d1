"""The last touch to a layout: who gets which of equal pieces and blanks, and one big rest instead of many."""

from collections import defaultdict
from collections.abc import Sequence

from studio.craft.cutting.kinds import sizes_of
from studio.craft.cutting.layout import Layout, Row, Sheet, laid_items, sheet_of, worth
from studio.craft.cutting.packing import areas, filled
from studio.craft.cutting.task import Item, Lie, Piece, Task

MOST_TIDIED = 250
"""Past so many blanks the rests are left as they fell."""


def handed_out(task: Task, layout: Layout) -> Layout:
    """The same layout with equal pieces taken offcuts first and equal blanks the earlier first."""
    sheets = [sheet for sheet in layout if sheet.rows]
    stacks = {(size.length, size.width): list(size.pieces) for size in sizes_of(task.pieces)}
    equals: dict[tuple[Lie, ...], list[Item]] = defaultdict(list)
    for item in task.items:
        equals[item.lies].append(item)
    given: list[Sheet] = []
    for sheet in sorted(sheets, key=lambda one: one.piece.place):
        piece = stacks[sheet.piece.length, sheet.piece.width].pop(0)
        rows = [
            Row(row.across, row.room, [(equals[item.lies].pop(0), lie) for item, lie in row.laid])
            for row in sheet.rows
        ]
        given.append(Sheet(piece, sheet.room, rows))
    return given


def roomiest(task: Task, layout: Layout) -> Layout:
    """The same blanks in the same pieces, with the biggest single rest that a few ways of filling give."""
    if not layout or len(laid_items(layout)) > MOST_TIDIED:
        return layout
    inside = task.only([item.place for item in laid_items(layout)])
    pieces = [sheet.piece for sheet in layout]
    found = [layout, _gathered(layout, task.kerf)]
    for order in _orders(pieces):
        sheets, left = filled(inside, order, areas(inside))
        if not left:
            found.append(sheets)
    return max(found, key=lambda one: worth(one, task.kerf))


def _orders(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Each piece last once, so that the rest is gathered in it, for up to a dozen pieces."""
    small_first = sorted(pieces, key=lambda piece: (piece.area, piece.place))
    lasts = small_first[-12:]
    return [[piece for piece in small_first if piece is not last] + [last] for last in lasts]


def _gathered(layout: Layout, kerf: int) -> Layout:
    """Strips of one width in one piece filled from the first on, so that the last ones fall away."""
    sheets = []
    for sheet in layout:
        fresh = sheet_of(sheet.piece, kerf)
        by_width: dict[int, list[tuple[Item, Lie]]] = defaultdict(list)
        for row in sheet.rows:
            by_width[row.across] += row.laid
        for across, laid in by_width.items():
            for item, lie in sorted(laid, key=lambda one: (-one[1].along, one[0].place)):
                open_rows = [row for row in fresh.rows if row.across == across]
                with_room = [row for row in open_rows if row.room >= lie.along + kerf]
                row = with_room[0] if with_room else fresh.open_row(across, kerf)
                row.lay(item, lie, kerf)
        sheets.append(fresh if len(fresh.rows) <= len(sheet.rows) else sheet)
    return sheets
