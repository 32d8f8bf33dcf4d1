"""Which solder goes with which alloy: families, grades, where they melt, and what an alloy admits.

The words 'hard' and 'easy' mean no one heat: makers differ. So what is told beside a grade is the heat by
which it has to flow, 20 degrees below where the metal begins to melt, where that is published.
"""

from dataclasses import dataclass
from enum import StrEnum

from studio.craft.melting import melting_of
from studio.craft.metals import Alloy, Metal

APART_C = 20
"""How far a solder's liquidus stays below the solidus of the metal: article on carat gold solders."""


class Family(StrEnum):
    """What a solder is mostly made of."""

    SILVER = "silver"
    GOLD = "gold"
    PLATINUM = "platinum"
    PALLADIUM = "palladium"


class Grade(StrEnum):
    """How high a solder of a family melts, the highest first."""

    ENAMELLING = "enamelling"
    HARD = "hard"
    MEDIUM = "medium"
    EASY = "easy"
    EXTRA_EASY = "extra easy"


HARDEST_FIRST = tuple(Grade)


@dataclass(frozen=True, slots=True)
class Solder:
    """One solder. Melting range in °C, an end nobody printed is None; `fineness` in parts per thousand."""

    family: Family
    grade: Grade
    fineness: int
    solidus_c: float | None
    liquidus_c: float | None
    source: str

    @property
    def range_words(self) -> str:
        """'745 to 778 °C', 'flows by 840 °C', 'melts from 700 °C', '' where nothing is printed."""
        if self.solidus_c is None:
            return "" if self.liquidus_c is None else f"flows by {self.liquidus_c:.0f} °C"
        if self.liquidus_c is None:
            return f"melts from {self.solidus_c:.0f} °C"
        return f"{self.solidus_c:.0f} to {self.liquidus_c:.0f} °C"


_UK = "UK table of silver solders, from memory"
_ARTICLE = "encyclopedic article on soldering; a page of flow points"
SILVER_SOLDERS = (
    Solder(Family.SILVER, Grade.ENAMELLING, 800, 740, 810, _ARTICLE),
    Solder(Family.SILVER, Grade.HARD, 750, 745, 778, f"{_UK}; a page of flow points has 788"),
    Solder(Family.SILVER, Grade.MEDIUM, 700, 720, 765, f"{_UK}; a page of flow points has 738"),
    Solder(Family.SILVER, Grade.EASY, 650, 705, 723, f"{_UK}; a page of flow points has 719"),
    Solder(Family.SILVER, Grade.EXTRA_EASY, 560, 667, 709, f"{_UK}; a page of flow points has 653"),
)
GOLD_SPANS_C = {375: (637, 795), 585: (669, 807), 750: (700, 840)}
"""From where a carat's easiest solder melts to where its hardest flows: carat-gold tables, from memory."""
_GRADES = (Grade.HARD, Grade.MEDIUM, Grade.EASY)
_UK_GOLD_FLOOR = {999: 750, 990: 750, 916: 750, 750: 750, 585: 585, 375: 375}
UK_SILVER_FLOOR = 650


def family_of(alloy: Alloy) -> Family:
    """The family an alloy is soldered with; base metals take silver solder."""
    return Family(alloy.metal) if alloy.is_precious else Family.SILVER


def solders_of(alloy: Alloy) -> tuple[Solder, ...]:
    """The solders of the alloy's family and fineness, the hardest first; which it admits says `admits`."""
    family = family_of(alloy)
    if family is Family.SILVER:
        return SILVER_SOLDERS
    if family is Family.GOLD:
        fineness = min(alloy.fineness, 750)  # the assay offices let even the highest carats take 750
        low, high = GOLD_SPANS_C.get(fineness, (None, None))
        source = "carat-gold tables, from memory" if high else "same carat as the work; no range is published"
        return tuple(
            Solder(
                family, grade, fineness,
                low if grade is Grade.EASY else None, high if grade is Grade.HARD else None, source,
            )
            for grade in _GRADES
        )  # fmt: skip
    top = 1700 if family is Family.PLATINUM else None
    source = "grades of platinum solder, from memory" if top else "no range is published"
    return tuple(
        Solder(family, grade, alloy.fineness, None, top if grade is Grade.HARD else None, source)
        for grade in _GRADES
    )


@dataclass(frozen=True, slots=True)
class Admission:
    """Whether an alloy may be soldered with a solder. `at_most_c`: the heat by which it has to flow, or None.

    `refusal` says why it may not be, '' where it may; `disagreement` where what is listed stands against the
    rule that is kept.
    """

    at_most_c: float | None
    refusal: str = ""
    disagreement: str = ""

    @property
    def is_admitted(self) -> bool:
        """Whether it may be used."""
        return not self.refusal


def admits(alloy: Alloy, solder: Solder) -> Admission:
    """Whether this solder may be used on the alloy.

    It flows 20 °C below where the metal begins to melt, where both are published. A silver that holds copper
    takes hard solder or a lower one by the trade's rule, though it flows nearer, and never enamelling solder;
    fine silver takes that. 585 yellow (solidus from 810): hard that flows by 790, though some is listed to
    807.
    """
    known = melting_of(alloy)
    at_most = None if known is None else known.begins_c - APART_C
    if solder.family is not family_of(alloy):
        return Admission(at_most, f"{solder.family} solder is another metal's")
    if solder.grade is Grade.ENAMELLING:
        return _enamelling(alloy, solder, at_most)
    if at_most is None or solder.liquidus_c is None or solder.liquidus_c <= at_most:
        return Admission(at_most)
    listed = f"{solder.grade} {solder.family} solder is listed to flow at up to {solder.liquidus_c:.0f} °C"
    if solder.family is Family.SILVER:
        rule = "the trade uses hard or lower all the same"
        told = f"{listed}, nearer than {APART_C} below {alloy.name}: {rule}"
        return Admission(None, disagreement=told)
    return Admission(at_most, disagreement=f"{listed}: take one that flows by {at_most:.0f}")


def _enamelling(alloy: Alloy, solder: Solder, at_most: float | None) -> Admission:
    if at_most is None:
        return Admission(None, f"nobody prints where {alloy.name} begins to melt")
    if solder.liquidus_c is None or solder.liquidus_c > at_most:
        begins = at_most + APART_C
        told = f"it flows at {solder.liquidus_c:.0f} °C, and {alloy.name} begins to melt at {begins:.0f}"
        return Admission(at_most, told)
    return Admission(at_most)


def is_fine_enough(alloy: Alloy, solder: Solder) -> bool:
    """Whether the UK assay offices let a solder of this fineness stand in an article of this alloy.

    Silver 650 at the least; gold as fine as the work, 750 from there on, white 750 and 585 from 500; platinum
    and palladium 950 of precious metals together, which their solders are made to.
    """
    if alloy.metal is Metal.SILVER:
        return solder.fineness >= UK_SILVER_FLOOR
    if alloy.metal is Metal.GOLD:
        is_white = "white" in alloy.name and alloy.fineness in {750, 585}
        return solder.fineness >= (500 if is_white else _UK_GOLD_FLOOR.get(alloy.fineness, 0))
    return True


def seam_solder(alloy: Alloy) -> Solder:
    """The solder of the ring's own seam, its first: hard, the highest a ring is made with."""
    return next(one for one in solders_of(alloy) if one.grade is Grade.HARD)


def next_solder(alloy: Alloy) -> Solder:
    """The solder of what is put onto the closed ring: a step lower, so that the seam does not open again."""
    return next(one for one in solders_of(alloy) if one.grade is Grade.MEDIUM)


def solder_name(alloy: Alloy, grade: Grade) -> str:
    """The solder as the drawer has it: 'hard 750', 'medium silver'."""
    return alloy.solder_hard_name.replace(Grade.HARD, grade, 1)
