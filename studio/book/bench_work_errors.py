"""What the book refuses of the work at the bench, as facts."""

from studio.book.errors import BookError, NotFound
from studio.craft.bench_work import Happened, WhyNotNow
from studio.craft.orders import State


class RingUnknown(NotFound):
    """The order has no ring at this place."""

    def __init__(self, number: str, position: int) -> None:
        super().__init__(f"no ring {position} of {number}")
        self.number = number
        self.position = position


class NotAtTheBench(BookError):
    """The order is not at the bench, so nothing is done to its rings."""

    def __init__(self, number: str, state: State) -> None:
        super().__init__(f"{number} is {state}, not at the bench")
        self.number = number
        self.state = state


class StepRefused(BookError):
    """The step cannot be started, stopped, ticked or taken back as the ring stands."""

    def __init__(self, number: str, why: WhyNotNow) -> None:
        super().__init__(f"{number}: {why}")
        self.number = number
        self.why = why


class BenchStale(BookError):
    """Something happened to the ring since its page was read: `meanwhile`, the first first."""

    def __init__(self, number: str, given: int, meanwhile: tuple[Happened, ...]) -> None:
        super().__init__(f"{number}: {len(meanwhile)} things happened since {given}")
        self.number = number
        self.given = given
        self.meanwhile = meanwhile
