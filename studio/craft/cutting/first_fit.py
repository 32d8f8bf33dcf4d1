"""First-fit decreasing, the plan everybody makes by hand, and the one no other plan may fall behind."""

from collections.abc import Callable, Sequence

from studio.craft.cutting.layout import Layout, Row, Sheet, opened_area, sheet_of, told, worth
from studio.craft.cutting.task import Item, Lie, Piece, Task, task_of
from studio.craft.cutting.values import Blank, Plan, Stock


def first_fit(stock: Sequence[Stock], blanks: Sequence[Blank], kerf_um: int) -> Plan:
    """The plan of first-fit decreasing; its bound is 0, for it proves nothing.

    The widest blanks come first, of one width the longest. Each goes into the first strip of its width with
    room, else into a new strip of the first opened piece with room, else of the smallest new piece. Pieces
    of one size are taken offcuts first. A blank is turned where it finds no place as it lies.
    """
    task = task_of(stock, blanks, kerf_um)
    layout = laid_first_fit(task)
    return told(task, layout, 0, is_proved=opened_area(layout) == 0 and not task.items, seconds=0.0)


def laid_first_fit(task: Task) -> Layout:
    """The layout of `first_fit`."""
    return _laid(task, lambda item: item.lies[:1], lambda item: item.lies[1:])


def first_layouts(task: Task) -> Layout:
    """The best of first-fit decreasing with turning as a last resort, as freely as lying, and never."""
    ways = [laid_first_fit(task)]
    if any(len(item.lies) > 1 for item in task.items):
        ways.append(_laid(task, lambda item: item.lies, lambda _: ()))
        ways.append(_laid(task, lambda item: item.lies[:1], lambda _: ()))
    return max(ways, key=lambda layout: worth(layout, task.kerf))


Lies = Callable[[Item], tuple[Lie, ...]]


def _laid(task: Task, first: Lies, then: Lies) -> Layout:
    sheets: list[Sheet] = []
    unopened = sorted(task.pieces, key=lambda piece: (piece.area, not piece.stock.is_offcut, piece.place))
    for item in sorted(task.items, key=lambda one: (-one.lies[0].across, -one.lies[0].along, one.place)):
        for lies in (first(item), then(item)):
            if _found_place(item, lies, sheets, unopened, task.kerf):
                break
    return sheets


def _found_place(
    item: Item, lies: tuple[Lie, ...], sheets: list[Sheet], unopened: list[Piece], kerf: int
) -> bool:
    for find in (_strip_with_room, _piece_with_room, _new_piece):
        for lie in lies:
            row = find(lie, sheets, unopened, kerf)
            if row is not None:
                row.lay(item, lie, kerf)
                return True
    return False


def _strip_with_room(lie: Lie, sheets: list[Sheet], _unopened: list[Piece], kerf: int) -> Row | None:
    for sheet in sheets:
        for row in sheet.rows:
            if row.across == lie.across and row.room >= lie.along + kerf:
                return row
    return None


def _piece_with_room(lie: Lie, sheets: list[Sheet], _unopened: list[Piece], kerf: int) -> Row | None:
    for sheet in sheets:
        if sheet.room >= lie.across + kerf and sheet.piece.length >= lie.along:
            return sheet.open_row(lie.across, kerf)
    return None


def _new_piece(lie: Lie, sheets: list[Sheet], unopened: list[Piece], kerf: int) -> Row | None:
    for at, piece in enumerate(unopened):
        if piece.width >= lie.across and piece.length >= lie.along:
            del unopened[at]
            sheets.append(sheet_of(piece, kerf))
            return sheets[-1].open_row(lie.across, kerf)
    return None
