"""Whole repeats of a pattern round the closed ring, and the pitch to mark on the strip so that they meet.

A punch or a roll puts the same mark down again and again. Where the last one does not end on the seam, the
pattern breaks there; so the pitch is moved a little until a whole number of repeats goes round.
"""

from dataclasses import dataclass
from math import floor

from studio.craft.designs import Limits, PatternWhen
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.reckonings import Reckoning
from studio.craft.units import shown_length

PITCH_MM = Limits(0.3, 40.0)
"""From one repeat to the next, in mm, as wanted on the closed ring."""


@dataclass(frozen=True, slots=True)
class Repeats:
    """Whole repeats on a length of `length_mm`; pitches in mm.

    `pitch_mm` is that of the finished pattern, `marked_mm` that to mark on `marked_length_mm` before it
    grows under the blows. Marks stand from one seam to the other; the seam falls between two repeats.
    """

    wanted_mm: float
    count: int
    length_mm: float
    pitch_mm: float
    marked_length_mm: float
    marked_mm: float

    @property
    def marks_mm(self) -> tuple[float, ...]:
        """Where the lines between repeats stand on the strip before the pattern, from its left end, in mm."""
        return tuple(self.marked_mm * i for i in range(self.count + 1))


def repeats(length_mm: float, wanted_mm: float, grown: float = 1.0) -> Repeats:
    """The whole number of repeats nearest to what is wanted, at least one, and the pitches that give it.

    count = length / wanted, rounded half up; pitch = length / count; marked = pitch / grown, where `grown`
    is length after the pattern / before. 60.65 mm at 2.5 mm are 24.26, so 24 repeats of 2.527 mm; stretched
    by 1.5 % they are marked 2.490 mm apart on 59.75 mm. Raises
    `Refused` at 'pitch' below 0.3 mm and above 40.
    """
    if not PITCH_MM.low <= wanted_mm <= PITCH_MM.high:
        why = Why.TOO_LARGE if wanted_mm > PITCH_MM.high else Why.TOO_SMALL
        raise Refused(Refusal("pitch", why, shown_length(wanted_mm), PITCH_MM.low, PITCH_MM.high, "mm"))
    count = max(1, floor(length_mm / wanted_mm + 0.5))
    pitch = length_mm / count
    return Repeats(wanted_mm, count, length_mm, pitch, length_mm / grown, pitch / grown)


def repeats_of(reckoning: Reckoning, wanted_mm: float) -> Repeats:
    """The repeats of a ring. Raises `Refused`.

    The length is the true one, which the closed ring has at its neutral line. A pattern struck on the strip
    grows it by the stretch that was reckoned with; a rolled one is printed at the pitch of its plate, one
    struck after closing grows the ring it is struck on.
    """
    design = reckoning.design
    grown = 1 + reckoning.stretch.used_percent / 100
    if design.pattern_when is PatternWhen.CLOSED:
        return repeats(reckoning.neutral_length_mm, wanted_mm, grown)
    return repeats(reckoning.true_length_mm, wanted_mm, grown)
