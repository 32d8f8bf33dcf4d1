"""The plans that are searched for the pages: the best so far at once, the search going on behind."""

import asyncio
from collections import OrderedDict
from collections.abc import Callable, Generator
from dataclasses import dataclass

from studio.craft.cutting import Plan, first_fit, is_at_once, plan
from studio.craft.needs import CutGroup, GroupPlan, Task, rounds, together
from studio.web.planner import Planner, PlanTask

MOST_KEPT = 200
"""Plans that are remembered: of some weeks, for everybody who looks at them."""


@dataclass(slots=True)
class Search:
    """A plan being searched: the best until now, and whether it is over."""

    best: GroupPlan
    is_over: bool = False
    running: asyncio.Task[None] | None = None


class PlanBoard:
    """Looks for the plan of every group it is asked for, once for all who ask. In one event loop."""

    def __init__(self, planner: Planner) -> None:
        self._planner = planner
        self._turn = asyncio.Semaphore(1)  # one after the other: whoever waits here loses no time of its own
        self._searches: OrderedDict[CutGroup, Search] = OrderedDict()

    def search(self, group: CutGroup) -> Search:
        """The search for this group's plan, begun if it is not; first-fit stands at once."""
        found = self._searches.get(group)
        if found is None:
            found = self._searches[group] = Search(first_plan(group))
            if found.best.is_proved:
                found.is_over = True
                return found
            found.running = asyncio.get_running_loop().create_task(self._run(group, found))
            while len(self._searches) > MOST_KEPT:
                _, oldest = self._searches.popitem(last=False)
                if oldest.running is not None:
                    oldest.running.cancel()
        self._searches.move_to_end(group)
        return found

    async def settled(self, groups: tuple[CutGroup, ...], seconds: float) -> tuple[Search, ...]:
        """The searches of all groups, after so many seconds at most."""
        found = tuple(self.search(group) for group in groups)
        running = [one.running for one in found if one.running is not None and not one.running.done()]
        if running:
            await asyncio.wait(running, timeout=seconds)
        return found

    async def cancel(self, group: CutGroup) -> Search:
        """End the search with what was found."""
        found = self.search(group)
        if found.running is not None and not found.running.done():
            found.running.cancel()
            await asyncio.wait({found.running})
        return found

    async def close(self) -> None:
        """End every search."""
        running = [one.running for one in self._searches.values() if one.running is not None]
        for one in running:
            one.cancel()
        await asyncio.gather(*running, return_exceptions=True)
        self._searches.clear()

    async def _run(self, group: CutGroup, search: Search) -> None:
        try:
            search.best = await self._best(group, search)
        finally:
            search.is_over = True

    async def _best(self, group: CutGroup, search: Search) -> GroupPlan:
        def better(found: Plan) -> None:
            if not any(piece.is_kept for piece in group.pieces):  # one round: each better plan is the whole
                search.best = together([found])

        steps = rounds(group)
        task = next(steps)
        while True:
            found = await self._planned(group, task, better)
            try:
                task = steps.send(found)
            except StopIteration as end:
                best: GroupPlan = end.value
                return best

    async def _planned(self, group: CutGroup, task: Task, better: Callable[[Plan], None]) -> Plan:
        stock, blanks = task
        if is_at_once(stock, blanks, group.kerf_um):
            return plan(stock, blanks, group.kerf_um)
        async with self._turn:
            return await self._planner.plan(PlanTask(stock, blanks, group.kerf_um), better)


def first_plan(group: CutGroup) -> GroupPlan:
    """The plan that stands at once: the best where it takes no search, else first-fit decreasing."""
    steps: Generator[Task, Plan, GroupPlan] = rounds(group)
    stock, blanks = next(steps)
    while True:
        solve = plan if is_at_once(stock, blanks, group.kerf_um) else first_fit
        try:
            stock, blanks = steps.send(solve(stock, blanks, group.kerf_um))
        except StopIteration as end:
            best: GroupPlan = end.value
            return best
