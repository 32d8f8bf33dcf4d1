"""Where every blank lies while a plan is sought, and how a layout is told as a plan."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from studio.craft.cutting.task import Item, Lie, Piece, Task
from studio.craft.cutting.values import Cut, Offcut, Opened, Plan, Strip, Unplaced, WhyUnplaced


@dataclass(slots=True)
class Row:
    """A strip being filled; `room` is what is left of the piece's length, with one kerf more.

    A blank takes its length and a kerf of it: n blanks fit where the sum of (length + kerf) is at most the
    piece's length + kerf.
    """

    across: int
    room: int
    laid: list[tuple[Item, Lie]] = field(default_factory=list)

    def lay(self, item: Item, lie: Lie, kerf: int) -> None:
        """Put a blank at the end of the strip."""
        self.laid.append((item, lie))
        self.room -= lie.along + kerf


@dataclass(slots=True)
class Sheet:
    """A piece being filled; `room` is what is left of its width, with one kerf more."""

    piece: Piece
    room: int
    rows: list[Row] = field(default_factory=list)

    def open_row(self, across: int, kerf: int) -> Row:
        """A new strip of this width."""
        row = Row(across, self.piece.length + kerf)
        self.rows.append(row)
        self.room -= across + kerf
        return row


def sheet_of(piece: Piece, kerf: int) -> Sheet:
    """The whole piece, nothing cut yet."""
    return Sheet(piece, piece.width + kerf)


Layout = Sequence[Sheet]


def laid_items(layout: Layout) -> list[Item]:
    """All blanks that lie somewhere."""
    return [item for sheet in layout for row in sheet.rows for item, _ in row.laid]


def opened_area(layout: Layout) -> int:
    """The area of the pieces that are cut at all."""
    return sum(sheet.piece.area for sheet in layout if sheet.rows)


Worth = tuple[int, tuple[int, ...], int, int, int]


def worth(layout: Layout, kerf: int) -> Worth:
    """What a layout is compared by; the larger one is better.

    Most blanks; ties to the earlier in the list; least area opened; least of it fresh; biggest single rest.
    """
    places = sorted(item.place for item in laid_items(layout))
    fresh = sum(sheet.piece.area for sheet in layout if sheet.rows and not sheet.piece.stock.is_offcut)
    biggest = max((rest.area_um2 for sheet in layout for rest in rests(sheet, kerf)), default=0)
    return len(places), tuple(-place for place in places), -opened_area(layout), -fresh, biggest


def rests(sheet: Sheet, kerf: int) -> list[Offcut]:
    """What is left of a piece after its cuts; less than a kerf left over is lost in the last cut."""
    found: list[Offcut] = []
    if not sheet.rows:
        return found
    for row in sheet.rows:
        left = sheet.piece.length - sum(lie.along + kerf for _, lie in row.laid)
        if left > 0:
            found.append(Offcut(left, row.across))
    left = sheet.piece.width - sum(row.across + kerf for row in sheet.rows)
    if left > 0:
        found.append(Offcut(sheet.piece.length, left))
    return found


def told(task: Task, layout: Layout, bound: int, *, is_proved: bool, seconds: float) -> Plan:
    """The layout as a plan: pieces in the order of the list, strips widest first, the longest blank first.

    Equal blanks are handed out so that the earlier in the list comes first, equal pieces so that offcuts do.
    """
    opened = [_opened(sheet, task.kerf) for sheet in sorted(layout, key=_place) if sheet.rows]
    laid = {item.place for item in laid_items(layout)}
    left = [(item.place, item.blank, WhyUnplaced.NO_ROOM) for item in task.items if item.place not in laid]
    return Plan(
        pieces=tuple(opened),
        unplaced=tuple(Unplaced(blank, why) for _, blank, why in sorted([*left, *task.never])),
        opened_area_um2=opened_area(layout),
        bound_area_um2=bound,
        is_proved=is_proved,
        seconds=seconds,
    )


def _place(sheet: Sheet) -> int:
    return sheet.piece.place


def _opened(sheet: Sheet, kerf: int) -> Opened:
    rows = sorted(sheet.rows, key=lambda row: (-row.across, row.room))
    stock = sheet.piece.stock
    in_order = Sheet(sheet.piece, sheet.room, rows)
    return Opened(
        stock=stock.id,
        length_um=stock.length_um,
        width_um=stock.width_um,
        is_offcut=stock.is_offcut,
        strips=tuple(Strip(row.across, tuple(_cuts(row.laid))) for row in rows),
        offcuts=tuple(rests(in_order, kerf)),
    )


def _cuts(laid: Iterable[tuple[Item, Lie]]) -> Iterable[Cut]:
    for item, lie in sorted(laid, key=lambda one: (-one[1].along, one[0].place)):
        yield Cut(item.blank, lie.along, lie.is_turned)
