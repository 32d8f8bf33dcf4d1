"""The mark for a strip a touch thinner or thicker, and for the sizes next to the one ordered."""

import math
from dataclasses import dataclass, replace

from studio.craft.designs import WIRE_PROFILES, Design, System
from studio.craft.errors import Refused
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.sizes import nearest

STEP_MM: dict[System, float] = {
    System.UK: 0.625,
    System.US: 0.5 * 0.8128 * math.pi,
    System.ISO: 1.0,
    System.JP: math.pi / 3,
    System.CH: 0.5,
    System.DE: 0.25 * math.pi,
    System.HK: 25.5 / 24,
    System.IN: 1.0,
}
"""The step between neighbouring sizes on the table, as mm of circumference: half a size in UK, US and CH,
a whole one in ISO and JP, a quarter of a mm of diameter in DE, the table's average number in HK and IN."""

THINNER_OR_THICKER_MM = 0.1
"""Strip as it comes off the mill differs by about this much from what was ordered: common practice, no
source."""


@dataclass(frozen=True, slots=True)
class NeighbouringMarks:
    """Marks by thickness (rows) and size of the ring (columns), both from small to large.

    `marks_mm[row][column]` belongs to `thicknesses_mm[row]` and `labels[column]`. The ring as ordered stands
    at `own_row` and `own_column`; its label is that of the ring, which a fit may have carried away from that
    of the finger. A thickness that cannot be made, and a size beyond its system's list, is left out.
    """

    labels: tuple[str, ...]
    thicknesses_mm: tuple[float, ...]
    marks_mm: tuple[tuple[float, ...], ...]
    own_row: int
    own_column: int


def neighbouring_marks(reckoning: Reckoning) -> NeighbouringMarks:
    """The mark for one step and two steps down and up in the customer's system, at 0.1 mm either way.

    A column is the ring made larger or smaller by the steps between its own label and the column's, its fit
    kept. Every mark is reckoned anew by the ring's own practice with the size or thickness changed and all
    else as it was, so it follows the pattern's stretch and the trim too. Flat 6 x 1.6 plain on UK O½, from a
    gauge as wide as the ring, has the mark 61.65 (55.625 + pi x 1.6 + 1.0 trim); half a size up, P, it is
    62.28; in strip 1.7 thick 61.97.
    A finger told as UK N takes a band 8 mm wide as a ring of 54.75 mm: its columns are N to P, its own O.
    """
    sizes = _sizes(reckoning)
    rows: list[tuple[float, tuple[float, ...]]] = []
    for change in (-THINNER_OR_THICKER_MM, 0.0, THINNER_OR_THICKER_MM):
        design = _thickened(reckoning.design, change)
        try:
            marks = tuple(_mark(reckoning, design, size.ring_mm) for size in sizes)
        except Refused:
            continue
        rows.append((design.thickness_mm, marks))
    thicknesses = tuple(thickness for thickness, _ in rows)
    return NeighbouringMarks(
        labels=tuple(size.label for size in sizes),
        thicknesses_mm=thicknesses,
        marks_mm=tuple(marks for _, marks in rows),
        own_row=thicknesses.index(reckoning.design.thickness_mm),
        own_column=next(place for place, size in enumerate(sizes) if size.is_own),
    )


@dataclass(frozen=True, slots=True)
class _Size:
    """One column: its label and the circumference of the ring made in it, in mm."""

    label: str
    ring_mm: float
    is_own: bool = False


def _sizes(reckoning: Reckoning) -> tuple[_Size, ...]:
    """The ring as ordered among those one and two steps smaller and larger, small to large.

    A ring that its system has no label for goes by its millimetres and stands alone.
    """
    system, ring_mm = reckoning.finger.system, reckoning.circumference_mm
    own, beyond = reckoning.sizes[system], reckoning.practice.reading.beyond_z
    if own is None:
        return (_Size(f"{ring_mm:.1f} mm", ring_mm, is_own=True),)
    by_label = {own.label: _Size(own.label, ring_mm, is_own=True)}
    for steps in (-2, -1, 1, 2):
        near = nearest(system, own.circumference_mm + steps * STEP_MM[system], beyond)
        if near is not None and near.label not in by_label:
            changed_mm = ring_mm + near.circumference_mm - own.circumference_mm
            by_label[near.label] = _Size(near.label, changed_mm)
    return tuple(sorted(by_label.values(), key=lambda size: size.ring_mm))


def _mark(reckoning: Reckoning, design: Design, ring_mm: float) -> float:
    """The mark of a ring of this circumference: fit and correction are in it already."""
    finger = replace(
        reckoning.finger, circumference_mm=ring_mm, to_label=None, to_circumference_mm=None, gauge=None
    )
    return reckon(finger, replace(design, fit_mm=0.0), reckoning.practice).mark_mm


def _thickened(design: Design, change_mm: float) -> Design:
    """The design in stock thicker by `change_mm`; wire grows on both sides."""
    if change_mm == 0:
        return design
    thickness_mm = round(design.thickness_mm + change_mm, 6)
    width_mm = thickness_mm if design.profile in WIRE_PROFILES else design.width_mm
    return replace(design, thickness_mm=thickness_mm, width_mm=width_mm)
