"""How long a plan may be sought, and whether anybody still asks for it."""

from collections.abc import Callable
from dataclasses import dataclass
from time import monotonic


@dataclass(frozen=True, slots=True)
class Budget:
    """Seconds from `began` on, and a question that ends the search at once."""

    began: float
    seconds: float
    stop: Callable[[], bool]

    @property
    def spent(self) -> float:
        """Seconds since it began."""
        return monotonic() - self.began

    def left(self) -> float:
        """Seconds that are left; 0 where they are used up or the search is to stop."""
        return 0.0 if self.stop() else max(self.seconds - self.spent, 0.0)


def budget(seconds: float, stop: Callable[[], bool]) -> Budget:
    """A budget that begins now."""
    return Budget(monotonic(), seconds, stop)
