"""What strips of one width leave free, gathered in one of them until another blank goes in."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from random import Random

from studio.craft.cutting.fills import fullest
from studio.craft.cutting.layout import Row, Sheet
from studio.craft.cutting.task import Item, Lie

AT_A_TIME = (2, 3, 4, 5)


def gathered(
    sheets: Sequence[Sheet],
    left: Sequence[Item],
    kerf: int,
    *,
    random: Random,
    rounds: int,
    seconds_left: Callable[[], float],
) -> list[Item]:
    """The blanks still left once a few strips at a time have been filled anew, for each width so many rounds.

    Strips that come out empty are given back to their piece.
    """
    rows: dict[int, list[Row]] = defaultdict(list)
    for sheet in sheets:
        for row in sheet.rows:
            rows[row.across].append(row)
    waiting: dict[int, list[Item]] = defaultdict(list)
    for item in left:
        waiting[item.lies[0].across].append(item)
    still: list[Item] = []
    for across, items in waiting.items():
        alike = rows[across]
        mine = [(item, item.lies[0]) for item in items]
        for number in range(rounds if len(alike) > 1 else 0):
            if not mine or seconds_left() <= 0:
                break
            count = min(random.choice(AT_A_TIME), len(alike))
            taken = _roomiest(alike, count, random) if number % 2 else random.sample(alike, count)
            mine = _refilled(taken, mine, kerf, random)
        still += [item for item, _ in mine]
    for sheet in sheets:
        sheet.room += sum(row.across + kerf for row in sheet.rows if not row.laid)
        sheet.rows = [row for row in sheet.rows if row.laid]
    return still


def _roomiest(rows: Sequence[Row], count: int, random: Random) -> list[Row]:
    """By lot, strips with much room more often."""
    drawn = sorted(((row.room * random.random(), at) for at, row in enumerate(rows)), reverse=True)
    taken = [rows[at] for _, at in drawn[:count]]
    random.shuffle(taken)
    return taken


def _refilled(
    rows: Sequence[Row], waiting: list[tuple[Item, Lie]], kerf: int, random: Random
) -> list[tuple[Item, Lie]]:
    """What waits once each strip in turn is filled as full as can be; as before where that is more."""
    pool = [one for row in rows for one in row.laid] + waiting
    anew: list[tuple[int, list[tuple[Item, Lie]]]] = []
    random.shuffle(pool)
    for row in rows:
        whole = row.room + sum(lie.along + kerf for _, lie in row.laid)
        taken = set(fullest([lie.along + kerf for _, lie in pool], whole))
        laid = [one for at, one in enumerate(pool) if at in taken]
        pool = [one for at, one in enumerate(pool) if at not in taken]
        anew.append((whole - sum(lie.along + kerf for _, lie in laid), laid))
    if sum(lie.along + kerf for _, lie in pool) > sum(lie.along + kerf for _, lie in waiting):
        return waiting
    for row, (room, laid) in zip(rows, anew, strict=True):
        row.room, row.laid = room, laid
    return pool
