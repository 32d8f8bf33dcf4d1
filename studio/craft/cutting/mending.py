"""Many blanks of several widths: a few pieces at a time are emptied and filled anew, with what is left over.

Pieces with much waste are taken more often. What comes out is kept where no more is left over than before, so
that waste gathers until the last blanks go in.
"""

from collections.abc import Callable, Mapping, Sequence
from random import Random

from studio.craft.cutting.gathering import gathered
from studio.craft.cutting.layout import Sheet, sheet_of
from studio.craft.cutting.packing import filled, squeezed
from studio.craft.cutting.task import Item, Piece, Task

AT_A_TIME = (3, 4, 5, 6)
EVERY_THIRD = 3
"""Every third time the pieces are taken by lot alone."""
MOST_SQUEEZED = 40
GATHERED = 10


def mended(
    task: Task,
    sheets: Sequence[Sheet],
    left: list[Item],
    pieces: Sequence[Piece],
    *,
    values: Mapping[int, float],
    random: Random,
    rounds: int,
    seconds_left: Callable[[], float],
) -> list[Sheet] | None:
    """All blanks in these pieces, begun from what lies in `sheets`; None where some are still left over.

    `rounds` limits the work, so that the outcome is the same on any machine that is through in time.
    """
    lying = {sheet.piece.place: sheet for sheet in sheets}
    whole = [lying.get(piece.place) or sheet_of(piece, task.kerf) for piece in pieces]
    for number in range(rounds):
        if not left or seconds_left() <= 0:
            break
        taken = _taken(whole, task.kerf, random, by_lot=number % EVERY_THIRD == 0)
        mine = [item for at in taken for row in whole[at].rows for item, _ in row.laid]
        part = task.only([item.place for item in (*mine, *left)])
        order = [whole[at].piece for at in taken]
        random.shuffle(order)
        made, still = filled(part, order, values, random if number % 2 else None)
        anew = {sheet.piece.place: sheet for sheet in made}
        again = [anew.get(piece.place) or sheet_of(piece, task.kerf) for piece in order]
        if still:
            still = squeezed(again, still, task.kerf, MOST_SQUEEZED)
        if _worth(still, values) <= _worth(left, values):
            at_place = {sheet.piece.place: sheet for sheet in again}
            whole = [at_place.get(sheet.piece.place, sheet) for sheet in whole]
            left = still
        left = gathered(whole, left, task.kerf, random=random, rounds=GATHERED, seconds_left=seconds_left)
    return None if left else [sheet for sheet in whole if sheet.rows]


def _taken(sheets: Sequence[Sheet], kerf: int, random: Random, *, by_lot: bool) -> list[int]:
    """The places of the sheets that are filled anew."""
    count = min(random.choice(AT_A_TIME), len(sheets))
    if by_lot:
        return random.sample(range(len(sheets)), count)
    drawn = [(_waste(sheet, kerf) * random.random(), at) for at, sheet in enumerate(sheets)]
    drawn.sort(reverse=True)
    return [at for _, at in drawn[:count]]


def _waste(sheet: Sheet, kerf: int) -> int:
    rows = sum(row.room * (row.across + kerf) for row in sheet.rows)
    return sheet.room * (sheet.piece.length + kerf) + rows


def _worth(items: Sequence[Item], values: Mapping[int, float]) -> float:
    return sum(values[item.place] for item in items)
