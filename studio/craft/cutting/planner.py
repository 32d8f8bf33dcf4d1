"""The search for the best plan: first-fit at once, then better ones, until one is proved or time is up."""

from collections.abc import Callable, Sequence

from studio.craft.cutting.area import least_area
from studio.craft.cutting.budget import budget
from studio.craft.cutting.first_fit import first_layouts
from studio.craft.cutting.layout import opened_area, told
from studio.craft.cutting.most import most_placed
from studio.craft.cutting.search import Search
from studio.craft.cutting.small import best_small, is_small
from studio.craft.cutting.task import task_of
from studio.craft.cutting.values import Blank, Plan, Stock


def is_at_once(stock: Sequence[Stock], blanks: Sequence[Blank], kerf_um: int) -> bool:
    """Whether `plan` enumerates this task, proved in milliseconds, or has nothing to search."""
    task = task_of(stock, blanks, kerf_um)
    return not task.items or is_small(task)


def plan(
    stock: Sequence[Stock],
    blanks: Sequence[Blank],
    kerf_um: int,
    *,
    seconds: float = 10.0,
    progress: Callable[[Plan], None] = lambda _: None,
    stop: Callable[[], bool] = lambda: False,
) -> Plan:
    """The best plan found: most blanks placed, ties to the earlier in the list; then the least area opened.

    Among plans of one area offcuts go before fresh pieces, and then the biggest single rest is sought. Never
    worse than first-fit decreasing. `progress` is told each better plan, the first one at once; `stop` is
    asked now and then, and ends the search with what was found. The search is limited by work first, so that
    the same task gives the same plan on any machine that is through before its seconds are over.
    """
    task = task_of(stock, blanks, kerf_um)
    search = Search(task, budget(seconds, stop), progress)
    search.offer(first_layouts(task))
    if not task.items:
        search.prove_most()
        search.raise_bound(0)
    elif is_small(task):
        search.offer(best_small(task))
        search.prove_most()
        search.raise_bound(opened_area(search.best))
    else:
        most_placed(search)
        least_area(search)
    search.tidy()
    return told(
        task, search.best, search.bound, is_proved=search.is_proved, seconds=round(search.budget.spent, 3)
    )
