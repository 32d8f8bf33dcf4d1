"""Printers: the paper in them, and how far what they print is from what was drawn, across and down."""

from dataclasses import dataclass
from enum import StrEnum

from studio.craft.designs import Limits

BAR_MM = 100.0
"""How long a check bar is drawn where nothing is corrected."""
MEASURED_MM = Limits(90.0, 110.0)
"""What a bar may measure. Beyond that the page was fitted to another paper, and no correction helps."""


class PaperSize(StrEnum):
    """The paper that lies in a printer."""

    A4 = "A4"
    A5 = "A5"
    LETTER = "Letter"


@dataclass(frozen=True, slots=True)
class SheetRoom:
    """A paper as a bench sheet is laid out on it, in mm: its sides, and what lies between the margins."""

    width_mm: float
    height_mm: float
    room_mm: float


ROOMS = {
    PaperSize.A4: SheetRoom(210.0, 297.0, 182.0),
    PaperSize.A5: SheetRoom(148.0, 210.0, 126.0),
    PaperSize.LETTER: SheetRoom(215.9, 279.4, 187.9),
}
"""ISO 216 and ANSI Y14.1. The room across is what `templates/papers` leaves for a drawing."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a sheet is drawn for: a printer by its name ('' for any), its paper, its bars in mm."""

    name: str = ""
    paper: PaperSize = PaperSize.A4
    across_mm: float = BAR_MM
    down_mm: float = BAR_MM

    @property
    def is_corrected(self) -> bool:
        """Whether the sheet is drawn otherwise than it is to measure."""
        return (self.across_mm, self.down_mm) != (BAR_MM, BAR_MM)

    @property
    def times_across(self) -> float:
        """How many times as long a line across is drawn: 100 ÷ measured. 97.2 mm: 1.0288."""
        return BAR_MM / self.across_mm

    @property
    def times_down(self) -> float:
        """As `times_across`, for a line down. 101.5 mm: 0.9852."""
        return BAR_MM / self.down_mm

    @property
    def room_mm(self) -> float:
        """How wide a drawing may be before it is corrected, in mm. A4 at 97.2 mm: 176.9."""
        return ROOMS[self.paper].room_mm / self.times_across


FOR_ANY = Drawn()
"""A4, as drawn: for a printer nobody measured."""
