"""Filling given pieces: strip by strip as full as can be, the strips of a piece chosen by their worth.

Finds a layout or none; that there is none, it never says.
"""

from collections.abc import Mapping, Sequence
from random import Random

from studio.craft.cutting.fills import fullest
from studio.craft.cutting.knapsack import knapsack
from studio.craft.cutting.layout import Row, Sheet, sheet_of
from studio.craft.cutting.task import Item, Lie, Piece, Task

CANDIDATES = 36
"""So many blanks are looked at for one strip: enough to come within micrometres of its length."""

LEADS = 4
"""So many of the longest blanks are tried as the first of a strip."""
NEXT_TO_NOTHING = 100
"""A strip with no more than this left over, in micrometres, is as good as full."""

Value = Mapping[int, float]
"""What it is worth to place a blank, by its place in the list."""


def areas(task: Task) -> dict[int, float]:
    """Each blank worth its own area and kerf."""
    kerf = task.kerf
    return {
        item.place: float((item.lies[0].along + kerf) * (item.lies[0].across + kerf)) for item in task.items
    }


def filled(
    task: Task,
    pieces: Sequence[Piece],
    values: Value,
    random: Random | None = None,
    allowance: int = NEXT_TO_NOTHING,
) -> tuple[list[Sheet], list[Item]]:
    """The pieces filled one after the other, and the blanks that are left.

    Without `random` every strip begins with the longest blank that leaves no more than `allowance` over; with
    it, some do not.
    """
    pool = Pool(task, values, random, allowance)
    sheets = [pool.fill(sheet_of(piece, task.kerf)) for piece in pieces if pool.left]
    return [sheet for sheet in sheets if sheet.rows], list(pool.left.values())


class Pool:
    """The blanks not placed yet, by the widths of strips they can lie in, the longest first."""

    def __init__(self, task: Task, values: Value, random: Random | None, allowance: int) -> None:
        self.allowance = allowance
        self.kerf = task.kerf
        self.values = values
        self.random = random
        self.left: dict[int, Item] = {item.place: item for item in task.items}
        self.by_width: dict[int, list[tuple[Item, Lie]]] = {}
        for item in task.items:
            for lie in item.lies:
                self.by_width.setdefault(lie.across, []).append((item, lie))
        for lying in self.by_width.values():
            lying.sort(key=lambda one: (-one[1].along, one[0].place))

    def fill(self, sheet: Sheet) -> Sheet:
        """Cut a whole piece: the strips worth most together, then whatever else still has room."""
        while strips := self._strips(sheet):
            chosen = _worth_most(strips, sheet.room, self.kerf)
            for across, laid, _ in chosen:
                if all(item.place in self.left for item, _ in laid):
                    self._lay(sheet, across, laid)
        return sheet

    def fill_row(self, row: Row, length: int) -> None:
        """Fill an empty strip of this length."""
        lying = [
            one
            for one in self.by_width.get(row.across, ())
            if one[0].place in self.left and one[1].along <= length
        ]
        for at in self._fill(lying, length + self.kerf) if lying else ():
            item, lie = lying[at]
            row.lay(item, lie, self.kerf)
            del self.left[item.place]

    def _lay(self, sheet: Sheet, across: int, laid: Sequence[tuple[Item, Lie]]) -> None:
        row = sheet.open_row(across, self.kerf)
        for item, lie in laid:
            row.lay(item, lie, self.kerf)
            del self.left[item.place]

    def _strips(self, sheet: Sheet) -> list["_Filled"]:
        """For each width the strips that could be cut, each from what the ones before it leave."""
        found: list[_Filled] = []
        for across in sorted(self.by_width, reverse=True):
            most = sheet.room // (across + self.kerf)
            if most == 0:
                continue
            lying = [one for one in self.by_width[across] if one[0].place in self.left]
            self.by_width[across] = lying
            lying = [one for one in lying if one[1].along <= sheet.piece.length]
            for _ in range(most):
                if not lying:
                    break
                taken = self._fill(lying, sheet.piece.length + self.kerf)
                laid = [lying[at] for at in taken]
                found.append((across, laid, sum(self.values[item.place] for item, _ in laid)))
                gone = set(taken)
                lying = [one for at, one in enumerate(lying) if at not in gone]
        return found

    def _fill(self, lying: Sequence[tuple[Item, Lie]], capacity: int) -> list[int]:
        """Places of the blanks for one strip: one of the longest, and what fills up the rest.

        The longest that leaves next to nothing is taken; where none does, whatever leaves least.
        """
        sizes = [lie.along + self.kerf for _, lie in lying]
        best: list[int] = []
        most = -1
        for lead in self._leads(sizes):
            others = self._others(lead, len(sizes))
            room = capacity - (sizes[lead] if lead is not None else 0)
            taken = [others[at] for at in fullest([sizes[at] for at in others], room)]
            if lead is not None:
                taken.append(lead)
            full = sum(sizes[at] for at in taken)
            if full > most:
                best, most = taken, full
            if capacity - most <= self.allowance:
                break
        return best

    def _leads(self, sizes: Sequence[int]) -> list[int | None]:
        """The longest of each of a few lengths, then none in particular; by chance the other way round."""
        leads: list[int | None] = []
        for at, size in enumerate(sizes):
            if at == 0 or size != sizes[at - 1]:
                leads.append(at)
            if len(leads) == LEADS:
                break
        if self.random is None:
            return [*leads, None]
        if self.random.random() < 0.3:
            return [None]
        if self.random.random() < 0.5:
            self.random.shuffle(leads)
        return [*leads, None]

    def _others(self, lead: int | None, count: int) -> list[int]:
        others = [at for at in range(count) if at != lead]
        if len(others) <= CANDIDATES:
            return others
        if self.random is None:
            step = len(others) / CANDIDATES
            return [others[int(at * step)] for at in range(CANDIDATES)]
        return sorted(self.random.sample(others, CANDIDATES))


_Filled = tuple[int, list[tuple[Item, Lie]], float]


def _worth_most(strips: Sequence[_Filled], room: int, kerf: int) -> list[_Filled]:
    """Those strips that fit side by side and are worth most together."""
    if len({across for across, _, _ in strips}) == 1:
        return list(strips)
    sizes = [across + kerf for across, _, _ in strips]
    held = knapsack(sizes, [value for _, _, value in strips], room, is_exact=True)
    return [strips[at] for at in reversed(held.places(room))]


def squeezed(sheets: Sequence[Sheet], left: list[Item], kerf: int, most: int) -> list[Item]:
    """Make room in strips of one width by dividing the blanks of two of them anew. What is still left.

    Two strips and a blank that is left are divided so that all lie in the two; where that fails one of the
    two is filled as full as can be, so that what both leave free gathers in the other. `most` divisions.
    """
    still: list[Item] = []
    for item in sorted(left, key=lambda one: (-one.lies[0].along, one.place)):
        for lie in item.lies:
            rows = [row for sheet in sheets for row in sheet.rows if row.across == lie.across]
            most -= 1
            if _opened_row(sheets, item, lie, kerf):
                break
            done, most = _squeezed_in(rows, item, lie, kerf, most)
            if done:
                break
        else:
            still.append(item)
    return still


def _opened_row(sheets: Sequence[Sheet], item: Item, lie: Lie, kerf: int) -> bool:
    for sheet in sheets:
        for row in sheet.rows:
            if row.across == lie.across and row.room >= lie.along + kerf:
                row.lay(item, lie, kerf)
                return True
    for sheet in sheets:
        if sheet.room >= lie.across + kerf and sheet.piece.length >= lie.along:
            sheet.open_row(lie.across, kerf).lay(item, lie, kerf)
            return True
    return False


def _squeezed_in(rows: list[Row], item: Item, lie: Lie, kerf: int, most: int) -> tuple[bool, int]:
    need = lie.along + kerf
    if sum(row.room for row in rows) < need or len(rows) < 2:
        return False, most
    stale = 0
    at = 0
    target = max(rows, key=lambda row: row.room)
    while most > 0 and stale < 2 * len(rows):
        row = rows[at % len(rows)]
        at += 1
        if row is target:
            stale += 1
            continue
        most -= 1
        if target.room + row.room >= need and _divided(row, target, [(item, lie)], kerf):
            return True, most
        stale = 0 if _gathered(row, target, kerf) else stale + 1
        if target.room >= need:
            target.lay(item, lie, kerf)
            return True, most
    return False, most


def _divided(row: Row, target: Row, more: list[tuple[Item, Lie]], kerf: int) -> bool:
    """All blanks of two strips, and one more, in these two strips; False, and nothing done, where not."""
    laid = [*row.laid, *target.laid, *more]
    sizes = [lie.along + kerf for _, lie in laid]
    whole, other = _capacity(row, kerf), _capacity(target, kerf)
    taken = fullest(sizes, whole)
    if sum(sizes) - sum(sizes[at] for at in taken) > other:
        return False
    _relaid(row, target, laid, taken, kerf)
    return True


def _gathered(row: Row, target: Row, kerf: int) -> bool:
    """Fill one strip as full as the blanks of both allow, if that leaves more room in the other."""
    if row.room == 0:
        return False
    laid = [*row.laid, *target.laid]
    sizes = [lie.along + kerf for _, lie in laid]
    taken = fullest(sizes, _capacity(row, kerf))
    filled_now = sum(sizes[at] for at in taken)
    if filled_now <= _capacity(row, kerf) - row.room or sum(sizes) - filled_now > _capacity(target, kerf):
        return False
    _relaid(row, target, laid, taken, kerf)
    return True


def _capacity(row: Row, kerf: int) -> int:
    return row.room + sum(lie.along + kerf for _, lie in row.laid)


def _relaid(row: Row, target: Row, laid: list[tuple[Item, Lie]], taken: list[int], kerf: int) -> None:
    first = set(taken)
    for one, chosen in ((row, True), (target, False)):
        one.room = _capacity(one, kerf)
        one.laid = []
        for at, (item, lie) in enumerate(laid):
            if (at in first) is chosen:
                one.lay(item, lie, kerf)
