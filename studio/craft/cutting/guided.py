"""Many blanks: strips that the relaxation cuts whole times are cut so, what is left is filled as it comes.

The relaxation takes blanks of nearly one length as one, so the last blank of each strip is chosen anew.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from math import floor

from studio.craft.cutting.layout import Row, Sheet, sheet_of
from studio.craft.cutting.packing import Pool
from studio.craft.cutting.relaxation import Relaxation
from studio.craft.cutting.solver import Solved
from studio.craft.cutting.task import Item, Lie, Piece

NEARLY = 1e-6


def guided(
    relaxation: Relaxation, solved: Solved, pieces: Sequence[Piece], pool: Pool
) -> tuple[list[Sheet], list[Item]]:
    """These pieces filled as the relaxation says, and the blanks that are left."""
    kerf = relaxation.task.kerf
    sheets = _ripped(relaxation, solved, pieces)
    waiting: dict[tuple[int, int], list[Row]] = defaultdict(list)
    for sheet in sheets:
        for row in sheet.rows:
            waiting[sheet.piece.length, row.across].append(row)
    known = [strip for strip in relaxation.strips if strip[-1] < len(solved.values)]
    for length, across, strip, at in sorted(known, key=lambda one: (-solved.values[one[-1]], one[-1])):
        for _ in range(floor(solved.values[at] + NEARLY)):
            if waiting[length, across]:
                cut_strip(waiting[length, across].pop(), strip, relaxation, pool)
    for (length, _), rows in sorted(waiting.items()):
        for row in rows:
            pool.fill_row(row, length)
    for sheet in sheets:
        sheet.rows = [row for row in sheet.rows if row.laid]
        sheet.room = sheet.piece.width + kerf - sum(row.across + kerf for row in sheet.rows)
        pool.fill(sheet)
    return [sheet for sheet in sheets if sheet.rows], list(pool.left.values())


def _ripped(relaxation: Relaxation, solved: Solved, pieces: Sequence[Piece]) -> list[Sheet]:
    """Each piece with the strips of a rip, still empty: whole times first, then the largest parts."""
    kerf = relaxation.task.kerf
    numbers = {(size.length, size.width): at for at, size in enumerate(relaxation.sizes)}
    rips: dict[int, list[tuple[float, tuple[tuple[int, int], ...]]]] = defaultdict(list)
    for number, rip, at in relaxation.rips:
        value = solved.values[at] if at < len(solved.values) else 0.0
        whole = floor(value + NEARLY)
        rips[number] += [(2.0, rip)] * whole
        if value - whole > NEARLY:
            rips[number].append((value - whole, rip))
    for ways in rips.values():
        ways.sort(key=lambda way: -way[0])
    sheets = []
    for piece in sorted(pieces, key=lambda one: (one.length, one.width, one.place)):
        sheet = sheet_of(piece, kerf)
        ways = rips[numbers[piece.length, piece.width]]
        for across, count in ways.pop(0)[1] if ways else ():
            for _ in range(count):
                sheet.open_row(across, kerf)
        sheets.append(sheet)
    return sheets


def cut_strip(row: Row, strip: Mapping[int, int], relaxation: Relaxation, pool: Pool) -> None:
    """Lay blanks of these groups from the pool into a strip; the last is the longest that still goes in."""
    kerf = relaxation.task.kerf
    wanted = [relaxation.groups[group] for group, count in sorted(strip.items()) for _ in range(count)]
    wanted.sort(key=lambda group: -group.along[row.across])
    for group in wanted[:-1]:
        found = next((item for item in group.items if item.place in pool.left), None)
        if found is not None:
            lie = next(lie for lie in found.lies if lie.across == row.across)
            if lie.along + kerf <= row.room:
                _lay(row, found, lie, pool)
    for item, lie in pool.by_width.get(row.across, ()):
        if item.place in pool.left and lie.along + kerf <= row.room:
            _lay(row, item, lie, pool)


def _lay(row: Row, item: Item, lie: Lie, pool: Pool) -> None:
    row.lay(item, lie, pool.kerf)
    del pool.left[item.place]
