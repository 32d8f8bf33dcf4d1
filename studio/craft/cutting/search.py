"""What is known while a plan is sought: the best layout so far, and the bound."""

from collections.abc import Callable
from dataclasses import dataclass, field

from studio.craft.cutting.budget import Budget
from studio.craft.cutting.finish import handed_out, roomiest
from studio.craft.cutting.layout import Layout, laid_items, opened_area, told, worth
from studio.craft.cutting.task import Task
from studio.craft.cutting.values import Plan


@dataclass(slots=True)
class Search:
    """The state of one search. The bound speaks of the blanks that the best layout places."""

    task: Task
    budget: Budget
    progress: Callable[[Plan], None]
    best: Layout = field(init=False, default=())
    bound: int = field(init=False, default=0)
    _is_most: bool = field(init=False, default=False)

    @property
    def area(self) -> int:
        """What the best layout opens."""
        return opened_area(self.best)

    @property
    def places_all(self) -> bool:
        """Whether every blank that goes into some piece has its place."""
        return len(laid_items(self.best)) == len(self.task.items)

    @property
    def is_proved(self) -> bool:
        """Whether no plan places more or earlier blanks, and none that places these opens less."""
        return self._is_most and self.bound == self.area

    def offer(self, layout: Layout) -> bool:
        """Keep the layout if it is better than the best so far, and tell of it."""
        layout = handed_out(self.task, layout)
        if self.best and worth(layout, self.task.kerf) <= worth(self.best, self.task.kerf):
            return False
        if {item.place for item in laid_items(layout)} != {item.place for item in laid_items(self.best)}:
            self.bound = 0
        self.best = layout
        seconds = round(self.budget.spent, 3)
        self.progress(told(self.task, layout, self.bound, is_proved=self.is_proved, seconds=seconds))
        return True

    def prove_most(self) -> None:
        """No plan places more blanks, or earlier ones."""
        self._is_most = True

    def raise_bound(self, area: int) -> None:
        """No plan that places the blanks of the best layout opens less than this."""
        self.bound = min(max(self.bound, area), self.area)

    def tidy(self) -> None:
        """Of the ways to lay the same blanks into the same pieces, one with a big single rest."""
        self.offer(roomiest(self.task, self.best))
