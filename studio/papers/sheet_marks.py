"""The table of a bench sheet with the marks of thinner and thicker strip, and of the sizes beside."""

from dataclasses import dataclass

from studio.craft.designs import WIRE_PROFILES
from studio.craft.neighbours import neighbouring_marks
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words


@dataclass(frozen=True, slots=True)
class MarkCell:
    """One mark of the table; `is_own` is the ring as ordered."""

    text: str
    is_own: bool


@dataclass(frozen=True, slots=True)
class MarkRow:
    """The marks of one thickness."""

    thickness: str
    cells: tuple[MarkCell, ...]


@dataclass(frozen=True, slots=True)
class MarkTable:
    """The mark for the strip a touch thinner or thicker, and for the neighbouring sizes."""

    corner: str
    sizes: tuple[MarkCell, ...]
    rows: tuple[MarkRow, ...]


def mark_table(reckoning: Reckoning) -> MarkTable:
    """The marks of the ring in its neighbouring sizes and thicknesses, in mm."""
    near = neighbouring_marks(reckoning)
    is_wire = reckoning.design.profile in WIRE_PROFILES
    return MarkTable(
        corner="mark for",
        sizes=tuple(MarkCell(label, index == near.own_column) for index, label in enumerate(near.labels)),
        rows=tuple(
            MarkRow(
                f"{figure_words(thickness_mm)} {'wire' if is_wire else 'thick'}",
                tuple(
                    MarkCell(f"{mark_mm:.1f}", row == near.own_row and column == near.own_column)
                    for column, mark_mm in enumerate(near.marks_mm[row])
                ),
            )
            for row, thickness_mm in enumerate(near.thicknesses_mm)
        ),
    )
