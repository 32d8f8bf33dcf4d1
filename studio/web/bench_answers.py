"""The status and the sentence for what the book refuses of the work at the bench."""

from collections.abc import Callable
from typing import Any

from studio.book.bench_work_errors import BenchStale, NotAtTheBench, RingUnknown, StepRefused
from studio.book.errors import BookError, NothingToMeasure
from studio.book.pin_errors import DeviceUnknown, PinRefused, PinWrong, WhyNoPin
from studio.book.pins import FEWEST, MOST
from studio.book.route_errors import RouteFixed
from studio.craft.bench_work import WhyNotNow
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.web.errors import Declined

_NOT_NOW = {
    WhyNotNow.NO_SUCH_STEP: "This ring has no such step.",
    WhyNotNow.DONE_ALREADY: "This step is done already.",
    WhyNotNow.NOT_DONE: "This step is not done, so it need not be opened again.",
    WhyNotNow.RUNS_ALREADY: "The clock of this step runs already.",
    WhyNotNow.NOT_RUNNING: "The clock of this step does not run.",
    WhyNotNow.NOTHING_TO_UNDO: "There is nothing to undo.",
    WhyNotNow.PROOF_NOT_SIGNED: (
        "The proof of these words is not signed yet. Read them back and sign it first."
    ),
}


_NO_PIN = {
    WhyNoPin.NOT_DIGITS: f"A PIN has {FEWEST} to {MOST} digits.",
    WhyNoPin.COMMON: "This one would be tried first. Choose digits that are neither alike nor in a row.",
}


def not_at_the_bench(state: State) -> str:
    """Why nothing can be done to a ring: its order has not come to the bench yet, or has left it."""
    if state in BEFORE_AGREEMENT or state is State.AGREED:
        return "This order is not at the bench yet."
    return f"This order is {state}. What was done to its ring stands."


BENCH_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    RingUnknown: lambda error: Declined(404, f"Order {error.number} has no such ring."),
    NotAtTheBench: lambda error: Declined(409, not_at_the_bench(error.state)),
    StepRefused: lambda error: Declined(409, _NOT_NOW[error.why]),
    PinRefused: lambda error: Declined(422, _NO_PIN[error.why], field="pin"),
    PinWrong: lambda _: Declined(401, "Name and PIN do not belong together. Try again."),
    DeviceUnknown: lambda _: Declined(404, "This device is not one of the bench any more."),
    BenchStale: lambda _: Declined(409, "Something was done to this ring meanwhile. Look at it again."),
    RouteFixed: lambda _: Declined(409, "This ring is not being made: its route stands as it is."),
    NothingToMeasure: lambda _: Declined(409, "This ring is not being made: there is nothing to measure."),
}
