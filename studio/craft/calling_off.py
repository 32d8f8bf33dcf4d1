"""Called off after the yes: how far the work had come, what the studio keeps of the price, what goes back.

How much is owed at which stage is the studio's own table; what may be kept at all is a matter of law, and a
professional's to say.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from studio.craft.money import share
from studio.craft.orders import State


class Stage(StrEnum):
    """How far the work on an agreed order had come when it was called off."""

    AGREED = "agreed"  # nothing cut yet
    CUT = "cut"  # a blank is cut, nothing more
    AT_THE_BENCH = "at the bench"
    READY = "ready"


class MetalTo(StrEnum):
    """Where the metal of a ring goes that is not made, or not sold."""

    DRAWER = "drawer"  # the blank lies in the drawer again, as a piece
    SCRAP = "scrap"  # it was bent or worked, and is metal by weight


@dataclass(frozen=True, slots=True)
class Settlement:
    """What is owed of the price of an order that was called off, in minor units.

    `returned_minor` goes back to the customer, `left_minor` is still to be paid; one of them is 0.
    """

    total_minor: int
    paid_minor: int
    owed_minor: int

    @property
    def returned_minor(self) -> int:
        """What was paid beyond what is owed."""
        return max(0, self.paid_minor - self.owed_minor)

    @property
    def left_minor(self) -> int:
        """What is owed beyond what was paid."""
        return max(0, self.owed_minor - self.paid_minor)


def stage_of(state: State, are_cut: Iterable[bool]) -> Stage | None:
    """The stage of an order in `state` whose rings' blanks are cut or not; None before the yes and after.

    Agreed with one blank of two cut: cut. Raises nothing.
    """
    match state:
        case State.AGREED:
            return Stage.CUT if any(are_cut) else Stage.AGREED
        case State.AT_THE_BENCH:
            return Stage.AT_THE_BENCH
        case State.READY:
            return Stage.READY
        case _:
            return None


def settled(
    stage: Stage, table: Mapping[Stage, Decimal | None], *, total_minor: int, paid_minor: int
) -> Settlement | None:
    """What the studio's table says is owed at a stage, None where it says nothing of it.

    Its percentage of the total, half up. 10 % of 1,368.00 with 547.20 paid: 136.80 owed, 410.40 goes back.
    """
    percent = table.get(stage)
    if percent is None:
        return None
    return Settlement(total_minor, paid_minor, share(total_minor, percent))


def metal_goes_to(stage: Stage) -> MetalTo:
    """Where the metal of a cut blank goes unless somebody says otherwise: back while nothing bent it."""
    return MetalTo.DRAWER if stage in {Stage.AGREED, Stage.CUT} else MetalTo.SCRAP
