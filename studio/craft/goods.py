"""What a studio has of its customers: stones to set, an old ring for its gold.

What was taken in is given back. Weights are whole milligrams, None where nothing was weighed.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from studio.craft.particulars import Stone
from studio.craft.stones import stone_line
from studio.craft.units import figure_words, from_milligrams

LONGEST_GOODS = 500
LONGEST_BAG = 40
LONGEST_NOTE = 500


@dataclass(frozen=True, slots=True)
class Good:
    """One line of a receipt for goods taken in: stones of a ring, or other goods in `words`.

    `ring` and `at` are the places of a stone, counted from 1: of its ring in the order, of itself on the
    ring. `bag` is the number of the bag or seal it lies in, `value_minor` what it is insured for, None where
    nobody said.
    """

    receipt: str
    place: int
    ring: int | None = None
    at: int | None = None
    stone: Stone | None = None
    words: str = ""
    weight_mg: int | None = None
    bag: str = ""
    condition: str = ""
    value_minor: int | None = None

    @property
    def key(self) -> str:
        """Its line by number: '2026-118-r1/2'."""
        return f"{self.receipt}/{self.place}"

    @property
    def line(self) -> str:
        """What it is, in the words of the bench and without what it is worth."""
        if self.stone is None:
            return self.words if self.weight_mg is None else f"{self.words}, {weight_words(self.weight_mg)}"
        return f"for ring {self.ring}: {stone_line(self.stone)}"


@dataclass(frozen=True, slots=True)
class GivenBack:
    """One line of a receipt for goods given back: what it was, and what it weighed then.

    What `is_used` has gone into the ring; its weight is then that of what was left over, 0 where nothing was.
    """

    good: Good
    weight_mg: int | None = None
    is_used: bool = False

    @property
    def used_mg(self) -> int | None:
        """What the work took of it, None where it was not weighed twice: 2.14 g in, 0.6 back, 1.54 used."""
        came = self.good.weight_mg
        return None if came is None or self.weight_mg is None else came - self.weight_mg


def held(taken_in: Iterable[Good], given_back: Iterable[GivenBack]) -> tuple[Good, ...]:
    """What of the goods taken in was not given back yet, in the order it was taken in."""
    gone = {one.good.key for one in given_back}
    return tuple(good for good in taken_in if good.key not in gone)


def shows(note: str, key: str) -> bool:
    """Whether a picture with this note is one of the line: 'Chip, 2026-118-r1/2' shows '2026-118-r1/2'."""
    return key in note.replace(",", " ").replace(";", " ").split()


def is_held(ring: int, at: int, stone: Stone, goods: Iterable[Good]) -> bool:
    """Whether these stones of a ring lie among `goods`: in the same place, and said to be the same.

    What was found of them since, how they are set and at whose risk makes no other stones of them.
    """
    said = _said(stone)
    return any(
        (good.ring, good.at) == (ring, at) and good.stone is not None and _said(good.stone) == said
        for good in goods
    )


def weight_words(weight_mg: int) -> str:
    """'4.25 g', to the milligram without idle noughts."""
    return f"{figure_words(from_milligrams(weight_mg), 3)} g"


def _said(stone: Stone) -> tuple[int, str, str, str]:
    return stone.count, stone.shape, stone.size, stone.stated
