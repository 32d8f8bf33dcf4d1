"""How many blanks go into the pieces at all, and which: as many as can be, the earlier in the list first."""

from collections.abc import Sequence
from random import Random

from studio.craft.cutting.bound import by_material
from studio.craft.cutting.exact import Answer, fitted, most_fitted
from studio.craft.cutting.kinds import sizes_of
from studio.craft.cutting.layout import Layout, laid_items
from studio.craft.cutting.packing import areas, filled, squeezed
from studio.craft.cutting.search import Search
from studio.craft.cutting.task import Item, Task

TRIES = 12


def most_placed(search: Search) -> None:
    """Place as many blanks as can be, and prove it where that is possible."""
    if search.places_all:
        search.prove_most()
        return
    layout, left = _tightly(search.task, search)
    search.offer(layout)
    if not left:
        search.prove_most()
        return
    _exactly(search)
    if not search.places_all:
        _more(search)


def _tightly(task: Task, search: Search) -> tuple[Layout, Sequence[Item]]:
    """All pieces filled, by a number of ways; the one that leaves fewest blanks."""
    random = Random(len(task.items))  # noqa: S311  the same choices every time, no secret
    pieces = sorted(task.pieces, key=lambda piece: (piece.area, piece.place))
    best: tuple[Layout, Sequence[Item]] = ((), task.items)
    tries = TRIES if len(task.items) <= 300 else 2
    for number in range(tries):
        if search.budget.left() <= 0 or not best[1]:
            break
        order = list(pieces)
        if number == 1:
            order.reverse()
        elif number > 1:
            random.shuffle(order)
        sheets, left = filled(task, order, areas(task), random if number > 1 else None)
        left = squeezed(sheets, left, task.kerf, 300)
        if len(left) < len(best[1]):
            best = sheets, left
    return best


def _exactly(search: Search) -> None:
    """Ask the whole-number model, blank by blank in the order of the list."""
    task = search.task
    whole = fitted(task, task.pieces, search.budget.left()) if _may_hold_all(task) else None
    if whole is not None and whole.answer is Answer.FOUND:
        search.offer(whole.layout)
        search.prove_most()
        return
    most = most_fitted(task, (), search.budget.left())
    if most.layout:
        search.offer(most.layout)
    if most.answer is not Answer.FOUND:
        return
    count = len(laid_items(most.layout))
    fixed: set[int] = set()
    for item in task.items:
        if item.place not in {one.place for one in laid_items(search.best)}:
            if len(fixed) == count:
                continue
            wanted = most_fitted(task, {*fixed, item.place}, search.budget.left())
            if wanted.answer is Answer.OPEN:
                return
            if wanted.answer is Answer.IMPOSSIBLE or len(laid_items(wanted.layout)) < count:
                continue
            search.offer(wanted.layout)
        fixed.add(item.place)
    search.prove_most()


def _may_hold_all(task: Task) -> bool:
    sizes = sizes_of(task.pieces)
    demand = by_material(task, sizes)
    holds = sum(hold * len(size.pieces) for hold, size in zip(demand.holds, sizes, strict=True))
    return holds >= demand.need


def _more(search: Search) -> None:
    """The smallest blanks alone: as many of them as a few ways of filling place."""
    if search.budget.left() <= 0:
        return
    small_first = sorted(search.task.items, key=lambda item: (_space(item), item.place))
    low, high = len(laid_items(search.best)), len(small_first)
    while high - low > 1 and search.budget.left() > 0:
        middle = (low + high) // 2
        layout, left = _tightly(search.task.only([item.place for item in small_first[:middle]]), search)
        if left:
            high = middle
        else:
            low = middle
            search.offer(layout)


def _space(item: Item) -> int:
    return item.lies[0].along * item.lies[0].across
