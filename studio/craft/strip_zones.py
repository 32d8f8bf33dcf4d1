"""What of the squared strip nothing may cut, file or wheel: its struck face, the place of letters and marks.

Places run along the strip from its left end, in mm; both ends are the seam.
"""

from dataclasses import dataclass

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.hallmark import HallmarkRule
from studio.craft.inscriptions import MARKS_MM, room_of
from studio.craft.particulars import Face, MarkPlace, Marks, Particulars
from studio.craft.reckonings import Reckoning
from studio.craft.route_finishing import hallmark, strike_sponsor

APART_MM = 2.0
"""What is left free between letters and marks. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A stretch of the strip that is kept whole, and the word for it."""

    start_mm: float
    end_mm: float
    word: str


def has_struck_face(reckoning: Reckoning) -> bool:
    """Whether the strip has its pattern before it is bent."""
    design = reckoning.design
    return design.pattern is not Pattern.PLAIN and design.pattern_when is not PatternWhen.CLOSED


def strip_zones(reckoning: Reckoning, particulars: Particulars, rule: HallmarkRule) -> tuple[Zone, ...]:
    """Where letters and marks will stand on the squared strip; none where the ring has neither.

    Letters stand opposite the seam, so in the middle; the marks opposite it too where there are no letters,
    else 2 mm after them. What is longer than the strip takes all of it. Marks of 8 mm on 60.65 mm stand
    from 26.3 to 34.3.
    """
    length = reckoning.true_length_mm
    zones: list[Zone] = []
    inscription = particulars.inscription
    if inscription is not None and inscription.is_wanted:
        takes = min(room_of(inscription, reckoning).takes_mm, length)
        where = "inside" if inscription.face is Face.INSIDE else "outside"
        zones.append(Zone((length - takes) / 2, (length + takes) / 2, f"letters {where}"))
    if _is_marked(reckoning, particulars.marks, rule):
        is_outside = particulars.marks is not None and particulars.marks.where is MarkPlace.OUTSIDE
        word = "marks outside" if is_outside else "marks inside"
        start = zones[0].end_mm + APART_MM if zones else (length - MARKS_MM) / 2
        start = max(0.0, min(start, length - MARKS_MM))
        zones.append(Zone(start, min(start + MARKS_MM, length), word))
    return tuple(zones)


def _is_marked(reckoning: Reckoning, marks: Marks | None, rule: HallmarkRule) -> bool:
    """Whether anything is, or may have to be, struck."""
    if marks is not None and marks.where is MarkPlace.NONE:
        return False
    return hallmark(reckoning, rule, marks) is not None or strike_sponsor(reckoning, marks) is not None
