"""Many blanks of several widths: which pieces to open and into which strips to rip each, chosen together.

With hundreds of blanks of a width some always fill a strip to the last, so a choice of strips is judged by
what they hold: for each width as much as its blanks take, in length and at the prices of the relaxation.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from heapq import heappush, heapreplace

from studio.craft.cutting.fills import largest_fill
from studio.craft.cutting.kinds import Size
from studio.craft.cutting.knapsack import knapsack
from studio.craft.cutting.layout import Sheet, sheet_of
from studio.craft.cutting.solver import Column, Model
from studio.craft.cutting.task import Item, Piece, Task

RIPS_A_SIZE = 30
"""So many of the ways to rip a size are offered to the solver, those worth most."""
MOST_LOOKED_AT = 4000
SCALE = 1000.0
"""What every demand is scaled to: the solver takes a row as met that misses by a millionth."""
NEAR_ENOUGH = 0.0005
INFINITY = float("inf")

Rip = tuple[tuple[int, int], ...]
"""How many strips of which width, side by side in a piece."""
NumberedRip = tuple[int, Rip]
"""The number of a size, and a way to rip it."""
Class = tuple[int, int]
"""Length and width of a strip."""


def ripped(
    task: Task,
    sizes: Sequence[Size],
    rips: Sequence[NumberedRip],
    prices: Sequence[Mapping[int, float]],
    *,
    spare: float,
    seconds: float,
    seed: int = 0,
) -> list[Sheet] | None:
    """Pieces of little area with empty strips that hold every width and `spare` of it more; None: none found.

    `rips` are those to choose from; each of `prices` prices some blanks by their place.
    """
    solved = _model(task, sizes, prices, rips, spare).solve(seconds, gap=NEAR_ENOUGH, seed=seed)
    if not solved.values:
        return None
    waiting: list[list[Piece]] = [list(size.pieces) for size in sizes]
    sheets = []
    for (number, rip), times in zip(rips, solved.values, strict=True):
        for _ in range(round(times)):
            sheet = sheet_of(waiting[number].pop(0), task.kerf)
            for across, count in rip:
                for _ in range(count):
                    sheet.open_row(across, task.kerf)
            sheets.append(sheet)
    return sheets


def strips_in_parts(
    task: Task,
    sizes: Sequence[Size],
    rips: Sequence[NumberedRip],
    prices: Sequence[Mapping[int, float]],
    *,
    spare: float,
    seconds: float,
) -> Mapping[Class, float]:
    """How many strips of each length and width there would be if pieces could be ripped in parts."""
    solved = _model(task, sizes, prices, rips, spare, is_whole=False).solve(seconds)
    found: dict[Class, float] = defaultdict(float)
    for (number, rip), times in zip(rips, solved.values, strict=False):
        for across, count in rip:
            found[sizes[number].length, across] += count * times
    return found


def rips_of(task: Task, sizes: Sequence[Size]) -> list[NumberedRip]:
    """For each size the ways to rip it that leave least."""
    widths = sorted({item.lies[0].across for item in task.items}, reverse=True)
    return [(number, rip) for number, size in enumerate(sizes) for rip in _rips(size, widths, task.kerf)]


def _model(
    task: Task,
    sizes: Sequence[Size],
    prices: Sequence[Mapping[int, float]],
    rips: Sequence[NumberedRip],
    spare: float,
    *,
    is_whole: bool = True,
) -> Model:
    demands = _demands(task, sizes, prices)
    rows = [(SCALE * (1 + spare), INFINITY) for _ in demands]
    rows += [(-INFINITY, float(len(size.pieces))) for size in sizes]
    largest = max(size.area for size in sizes)
    columns = []
    for number, rip in rips:
        size = sizes[number]
        entries = {
            at: SCALE * count * held[size.length]
            for at, (width, held) in enumerate(demands)
            for across, count in rip
            if across == width and held[size.length] > 0
        }
        entries[len(demands) + number] = 1.0
        columns.append(Column(size.area / largest, entries, high=float(len(size.pieces)), is_whole=is_whole))
    return Model(rows, columns)


def _demands(
    task: Task, sizes: Sequence[Size], prices: Sequence[Mapping[int, float]]
) -> list[tuple[int, Mapping[int, float]]]:
    """For each width and each way of pricing: what share of its blanks a strip of each length holds."""
    lengths = sorted({size.length for size in sizes})
    by_width: dict[int, list[Item]] = {}
    for item in task.items:
        by_width.setdefault(item.lies[0].across, []).append(item)
    demands: list[tuple[int, Mapping[int, float]]] = []
    for across, items in sorted(by_width.items()):
        alongs = [item.lies[0].along + task.kerf for item in items]
        within = {}
        for length in lengths:
            room = length + task.kerf
            within[length] = largest_fill([one for one in alongs if one <= room], room)
        demands.append((across, {length: fill / sum(alongs) for length, fill in within.items()}))
        for one in prices:
            worth = [one.get(item.place, 0.0) for item in items]
            if sum(worth) <= 0:
                continue
            held = knapsack(alongs, worth, lengths[-1] + task.kerf, is_exact=True)
            demands.append(
                (across, {length: held.value(length + task.kerf) / sum(worth) for length in lengths})
            )
    return demands


def _rips(size: Size, widths: Sequence[int], kerf: int) -> list[Rip]:
    """The ways to rip a piece of this size that leave least, none of them with room for one more strip."""
    widths = [across for across in widths if across <= size.width]
    spaces = [across + kerf for across in widths]
    best: list[tuple[int, tuple[int, ...]]] = []
    looked_at = 0

    def look(at: int, room: int, counts: tuple[int, ...]) -> None:
        nonlocal looked_at
        looked_at += 1
        if looked_at > MOST_LOOKED_AT:
            return
        most = room // spaces[at]
        if at < len(widths) - 1:
            for count in range(most, -1, -1):
                look(at + 1, room - count * spaces[at], (*counts, count))
            return
        found = (most * spaces[at] - room, (*counts, most))
        if len(best) < RIPS_A_SIZE:
            heappush(best, found)
        elif found > best[0]:
            heapreplace(best, found)

    if widths:
        look(0, size.width + kerf, ())
    return [
        tuple((across, count) for across, count in zip(widths, counts, strict=True) if count)
        for _, counts in sorted(best, reverse=True)
    ]
