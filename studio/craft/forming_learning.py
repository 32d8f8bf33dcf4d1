"""By how much the studio's waists came out smaller, and what that says of the next anticlastic band.

The same belief as of a pattern's stretch (`stretch_learning.py`): a kind of work is metal and thickness,
what is believed beforehand is worth one ring, and a kind starts from what the others say. The mean of the
forecast takes the place of the practice's own correction.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median

from studio.craft.anticlastic import QUARTER_US_MM
from studio.craft.designs import Design
from studio.craft.form import FormKind
from studio.craft.learned import LearnedForming, ThicknessBand
from studio.craft.metals import Metal
from studio.craft.practice import Prior
from studio.craft.stretch_learning import (
    MOST_NAMED,
    ROBUST_FROM,
    ROBUST_SDS,
    CellKey,
    Posterior,
    band_of,
    believed,
)

LEAST_SD_MM = 0.1
"""Records nearer to each other than this are not told apart by how near they are."""
BELIEVED_WITHIN_MM = QUARTER_US_MM
"""Nine waists in ten lie so near to the practice's correction before anything is measured: no source."""


@dataclass(frozen=True, slots=True)
class FormingRecord:
    """One ring as it was: `ring` names it (2026-118/1); its inside round once closed and once formed, in mm.

    `wrong` is why somebody said the record does not count, '' for one that does.
    """

    ring: str
    metal: Metal
    thickness_mm: float
    closed_mm: float
    formed_mm: float
    wrong: str = ""

    @property
    def fell_mm(self) -> float:
        """By how much the waist came out smaller; larger is below 0. Closed 57.4, formed 57.0: 0.4."""
        return self.closed_mm - self.formed_mm

    @property
    def cell(self) -> CellKey:
        """The kind of work this was."""
        return self.metal, band_of(self.thickness_mm)


def forming_learned(records: Iterable[FormingRecord], correction_mm: float) -> tuple[LearnedForming, ...]:
    """What the records say of each kind of work there are any of, and of all others: the one without metal.

    `correction_mm` is the practice's, believed until something is measured. One waist that fell by 1.0 mm
    where 0 was believed: the next is forecast to fall by 0.5.
    """
    cells: dict[CellKey, list[FormingRecord]] = {}
    for one in records:
        cells.setdefault(one.cell, []).append(one)
    counted = {cell: counting(found) for cell, found in cells.items()}
    start = believed(Prior(correction_mm, BELIEVED_WITHIN_MM))
    told = []
    for cell, own in counted.items():
        others = [one for other, found in counted.items() if other != cell for one in found]
        if own or others:
            told.append(_learned(cell, _from_others(start, others), own, len(others)))
    everyone = [one for found in counted.values() for one in found]
    if everyone:
        told.append(_learned((None, None), _from_others(start, everyone), [], len(everyone)))
    return tuple(told)


def counting(records: Sequence[FormingRecord]) -> list[FormingRecord]:
    """The records of one kind that count.

    None that is said to be wrong, and from five records up none that lies too far from the others.
    """
    found = [one for one in records if not one.wrong]
    if len(found) < ROBUST_FROM:
        return found
    middle = median(one.fell_mm for one in found)
    spread = max(LEAST_SD_MM, 1.4826 * median(abs(one.fell_mm - middle) for one in found))
    return [one for one in found if abs(one.fell_mm - middle) <= ROBUST_SDS * spread]


def kept_forming(design: Design, metal: Metal, found: Sequence[LearnedForming]) -> tuple[LearnedForming, ...]:
    """As much of it as a ring of this design keeps: of its own kind first, then of all; none for a band."""
    if design.form.kind is not FormKind.ANTICLASTIC:
        return ()
    own = (metal, band_of(design.thickness_mm))
    return tuple(one for cell in (own, (None, None)) for one in found if (one.metal, one.band) == cell)


def forming_for(design: Design, metal: Metal, found: Sequence[LearnedForming]) -> LearnedForming | None:
    """What was learned for this design: of its own kind of work, else of all; None for nothing."""
    return next(iter(kept_forming(design, metal, found)), None)


def forming_words(known: LearnedForming, *, named: int = MOST_NAMED) -> str:
    """Which rings stand behind a correction: '2 of our own (2026-23/1, 2026-30/1); 1 of other kinds'."""
    others = f"{known.others} of other metals or thicknesses" if known.others else ""
    if not known.records:
        return f"none of our own of this kind; {others}"
    shown = known.rings[-named:]
    more = "…, " if known.records > len(shown) else ""
    own = f"{known.records} of our own ({more}{', '.join(shown)})"
    return f"{own}; {others}" if others else own


def _from_others(start: Posterior, others: Sequence[FormingRecord]) -> Posterior:
    told = start.after([one.fell_mm for one in others])
    return believed(Prior(told.mean, told.half_width))


def _learned(
    cell: tuple[Metal | None, ThicknessBand | None],
    start: Posterior,
    own: Sequence[FormingRecord],
    others: int,
) -> LearnedForming:
    after = start.after([one.fell_mm for one in own])
    return LearnedForming(
        metal=cell[0],
        band=cell[1],
        mean_mm=after.mean,
        half_width_mm=after.half_width,
        records=len(own),
        others=others,
        rings=tuple(one.ring for one in own[-MOST_NAMED:]),
    )
