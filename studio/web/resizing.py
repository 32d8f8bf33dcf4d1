"""Resizing a ring later, as its order's page shows it: whether it can be, and what each step takes."""

from dataclasses import dataclass

from studio.craft.particulars import Particulars
from studio.craft.reckonings import Reckoning
from studio.craft.resizing import resizing
from studio.craft.sizes import SYSTEM_NAMES
from studio.papers.resizing_words import resizing_line


@dataclass(frozen=True, slots=True)
class StepLine:
    """One step of a system: on circumference and strip, in metal, and the thickness left by the hammer."""

    system: str
    name: str
    change_mm: str
    metal_g: str
    hammered_mm: str


@dataclass(frozen=True, slots=True)
class ResizingPart:
    """The line that is always seen, and the steps behind it; none where the ring cannot be resized.

    `is_hammered` says whether the thickness left by the hammer is shown.
    """

    line: str
    steps: tuple[StepLine, ...]
    is_hammered: bool


def resizing_part(reckoning: Reckoning, particulars: Particulars) -> ResizingPart:
    """What the order's page says of resizing the ring."""
    found = resizing(reckoning, particulars)
    steps = found.steps if found.is_possible else ()
    return ResizingPart(
        resizing_line(found, reckoning.finger.system),
        tuple(
            StepLine(
                SYSTEM_NAMES[one.system],
                one.name,
                f"{one.change_mm:.2f}",
                f"{one.metal_g:.2f}",
                f"{one.hammered_mm:.2f}" if one.change_mm <= found.hammer_most_mm else "cut in",
            )
            for one in steps
        ),
        found.by_hammer,
    )
