"""What the bench's pages say: who did what, how a figure came out, what a clock shows."""

from collections.abc import Sequence

from studio.book.bench_work import RingAtBench
from studio.craft.bench_figures import apart_words, target
from studio.craft.bench_work import Happened, What
from studio.craft.directions import apart
from studio.craft.operations import Operation
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words
from studio.web.security import Seat
from studio.web.wording import counted, joined, since_words

_DID = {
    What.STARTED: "started '{step}'",
    What.STOPPED: "stopped at '{step}'",
    What.DONE: "ticked '{step}'",
    What.NOTED: "put down '{step}'",
    What.REOPENED: "opened '{step}' again",
    What.UNDONE: "took the last thing back",
}


def meanwhile_words(happened: Sequence[Happened], stands: RingAtBench, seat: Seat) -> tuple[str, ...]:
    """What others did since the page was read, a sentence each, with the hour."""
    return tuple(
        f"{apart(one.by)} {did_words(one, stands.operations)}, {since_words(one.at, seat.zone, seat.today)}."
        for one in happened
    )


def step_name(operation: Operation) -> str:
    """The name of a step by itself: 'Bend', not 'Bend,' as its sentence begins."""
    return operation.name.rstrip(",.: ")


def measured_words(one: Operation, figure: float, reckoning: Reckoning) -> str:
    """A figure with its unit, and how far it is from what it should come to."""
    unit = "" if one.measure is None else one.measure.unit
    wanted = target(one, reckoning)
    apart_from = "" if wanted is None else f", {apart_words(figure, wanted)}"
    return f"{figure_words(figure)} {unit}{apart_from}"


def clock_words(seconds: int) -> str:
    """What a clock shows: '06:40', and with hours '1:02:00'."""
    minutes, rest = divmod(seconds, 60)
    hours, left = divmod(minutes, 60)
    return f"{hours}:{left:02}:{rest:02}" if hours else f"{left:02}:{rest:02}"


def did_words(one: Happened, operations: Sequence[Operation]) -> str:
    """What somebody did: "ticked 'Square the ends', 60.6 mm"."""
    operation = next((other for other in operations if other.key == one.operation), None)
    name = one.operation if operation is None else step_name(operation)
    told = [_DID[one.what].format(step=name)]
    if one.figure is not None and operation is not None and operation.measure is not None:
        told.append(f"{figure_words(one.figure)} {operation.measure.unit}")
    if one.minutes is not None:
        told.append(f"{one.minutes} min")
    return ", ".join(told)


def photo_words(stands: RingAtBench) -> str:
    """How many photos and sketches there are of this ring already."""
    mine = sum(one.ring in {None, stands.ring.position} for one in stands.order.pictures)
    return (
        f"A photo of the work, {counted(mine, 'picture', 'pictures')} kept" if mine else "A photo of the work"
    )


def saved_words(stands: RingAtBench, seat: Seat) -> str:
    """When the last thing was written down, and by whom: 'Saved 10:12, Bas'."""
    if not stands.happened:
        return "Nothing put down yet"
    last = stands.happened[-1]
    return f"Saved {since_words(last.at, seat.zone, seat.today)}, {apart(last.by)}"


def finished_words(left: Sequence[int]) -> str:
    """What stands where every step of a ring is done: that the order is finished, or which rings are not."""
    if not left:
        return "Every ring of the order is finished at the bench."
    which = joined([str(position) for position in left])
    ring, have = ("Ring", "has") if len(left) == 1 else ("Rings", "have")
    return f"{ring} {which} of the order still {have} steps left."
