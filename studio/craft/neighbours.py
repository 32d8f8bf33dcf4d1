"""The mark for a strip a touch thinner or thicker, and for the sizes next to the one ordered."""

import math
from dataclasses import dataclass, replace

from studio.craft.designs import WIRE_PROFILES, Design, Finger, System
from studio.craft.errors import Refused
from studio.craft.practice import COMMON_PRACTICE, Practice
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.sizes import nearest

STEP_MM: dict[System, float] = {
    System.UK: 0.625,
    System.US: 0.5 * 0.8128 * math.pi,
    System.ISO: 1.0,
    System.JP: math.pi / 3,
    System.CH: 0.5,
    System.DE: 0.25 * math.pi,
}
"""The step between neighbouring sizes on the table, as mm of circumference: half a size in UK, US and CH,
a whole one in ISO and JP, a quarter of a mm of diameter in DE."""

THINNER_OR_THICKER_MM = 0.1
"""Strip as it comes off the mill differs by about this much from what was ordered: common practice, no
source."""


@dataclass(frozen=True, slots=True)
class NeighbouringMarks:
    """Marks by thickness (rows) and finger size (columns), both from small to large.

    `marks_mm[row][column]` belongs to `thicknesses_mm[row]` and `labels[column]`. The ring as ordered stands
    at `own_row` and `own_column`. A thickness that cannot be made, and a size beyond its system's list, is
    left out.
    """

    labels: tuple[str, ...]
    thicknesses_mm: tuple[float, ...]
    marks_mm: tuple[tuple[float, ...], ...]
    own_row: int
    own_column: int


def neighbouring_marks(reckoning: Reckoning, practice: Practice = COMMON_PRACTICE) -> NeighbouringMarks:
    """The mark for one step and two steps down and up in the customer's system, at 0.1 mm either way.

    Every mark is reckoned anew with the size or thickness changed and all else as it was, so it follows the
    pattern's stretch and the trim too. Flat 6 x 1.6 plain on UK O½, from a gauge as wide as the ring, has
    the mark 61.65 (55.625 + pi x 1.6 + 1.0 trim); half a size up, P, it is 62.28; in strip 1.7 thick 61.97.
    """
    fingers = _fingers(reckoning.finger)
    labels = tuple(finger.label for finger in fingers)
    own_label = _own(reckoning.finger).label
    rows: list[tuple[float, tuple[float, ...]]] = []
    for change in (-THINNER_OR_THICKER_MM, 0.0, THINNER_OR_THICKER_MM):
        design = _thickened(reckoning.design, change)
        try:
            marks = tuple(reckon(finger, design, practice).mark_mm for finger in fingers)
        except Refused:
            continue
        rows.append((design.thickness_mm, marks))
    thicknesses = tuple(thickness for thickness, _ in rows)
    return NeighbouringMarks(
        labels=labels,
        thicknesses_mm=thicknesses,
        marks_mm=tuple(marks for _, marks in rows),
        own_row=thicknesses.index(reckoning.design.thickness_mm),
        own_column=labels.index(own_label),
    )


def _own(finger: Finger) -> Finger:
    """The finger the ring is reckoned for: of a size range its larger end."""
    if finger.to_label is None or finger.to_circumference_mm is None:
        return finger
    return _sized(finger, finger.to_label, finger.to_circumference_mm)


def _sized(finger: Finger, label: str, circumference_mm: float) -> Finger:
    return replace(
        finger, label=label, circumference_mm=circumference_mm, to_label=None, to_circumference_mm=None
    )


def _fingers(finger: Finger) -> tuple[Finger, ...]:
    """The finger as measured among those one and two steps smaller and larger, small to large."""
    own = _own(finger)
    by_label = {own.label: own}
    for steps in (-2, -1, 1, 2):
        near = nearest(own.system, own.circumference_mm + steps * STEP_MM[own.system])
        if near is not None and near.label not in by_label:
            by_label[near.label] = _sized(own, near.label, near.circumference_mm)
    return tuple(sorted(by_label.values(), key=lambda one: one.circumference_mm))


def _thickened(design: Design, change_mm: float) -> Design:
    """The design in stock thicker by `change_mm`; wire grows on both sides."""
    if change_mm == 0:
        return design
    thickness_mm = round(design.thickness_mm + change_mm, 6)
    width_mm = thickness_mm if design.profile in WIRE_PROFILES else design.width_mm
    return replace(design, thickness_mm=thickness_mm, width_mm=width_mm)
