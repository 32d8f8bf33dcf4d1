"""An inscription against the room it has: letters counted as they are read, their height, their length.

How wide a letter is for its height, what is kept free, and how narrow a band can still be read is common
practice, no source.
"""

import math
import unicodedata
from dataclasses import dataclass

from studio.craft.particulars import Face, Inscription
from studio.craft.reckonings import Reckoning
from studio.craft.working import Input, Notes, Working

LONGEST = 120
"""Signs of an inscription, at most."""
LETTER_MM = (0.8, 6.0)
"""Heights of a capital that can be cut by hand and read."""
USUAL_LETTER_MM = 2.0
OF_THE_WIDTH = 0.5
"""The height of a capital, where none is given: half the width, 2 mm at most."""
WIDE_FOR_HIGH, SPACE_FOR_HIGH = 0.75, 0.4
"""What a letter, with the gap after it, and a space take for each mm of height."""
MARKS_MM = 8.0
"""What the hallmark and the sponsor's mark take of the inside."""
NARROWEST_MM = 3.0
"""Below this width an inscription is hard to read."""
COMMON_PRACTICE = "common practice, no source"
_JOINER = "\N{ZERO WIDTH JOINER}"


@dataclass(frozen=True, slots=True)
class Room:
    """How an inscription goes into its ring, and how that came about. Lengths in mm.

    `round_mm` is once around the face it stands on: the finished inside, or the outside over the metal.
    """

    letters: int
    letter_mm: float
    takes_mm: float
    has_mm: float
    round_mm: float
    is_narrow: bool
    working: tuple[Working, ...]

    @property
    def is_too_long(self) -> bool:
        """Whether it takes more than there is."""
        return self.takes_mm > self.has_mm


def letters_of(text: str) -> tuple[str, ...]:
    """The text as it is read back: sign by sign, an accent with its letter. 'né' gives 'n', 'é'.

    Spaces count as signs of their own. Marks that combine, and signs joined by a zero width joiner, stay
    with what they belong to.
    """
    found: list[str] = []
    for sign in text:
        joins = unicodedata.category(sign) in {"Mn", "Me", "Mc", "Cf"} or (
            found and found[-1].endswith(_JOINER)
        )
        if found and joins:
            found[-1] += sign
        else:
            found.append(sign)
    return tuple(found)


def room_of(inscription: Inscription, reckoning: Reckoning) -> Room:
    """What an inscription takes, and what the ring has for it.

    A letter takes 0.75 of its height along the ring, a space 0.4. Inside there is the circumference less
    8 mm for the marks; outside the circumference over the metal. 'Ada & Jon' at 2 mm: 7 letters and two
    spaces, 12.1 mm. Inside 55.6 mm round there are 47.6 mm.
    """
    design = reckoning.design
    high = inscription.letter_mm or min(USUAL_LETTER_MM, OF_THE_WIDTH * design.width_mm)
    signs = letters_of(inscription.text)
    letters = sum(not sign.isspace() for sign in signs)
    notes = Notes()
    takes = notes.note(
        "inscription.takes_mm",
        high * (WIDE_FOR_HIGH * letters + SPACE_FOR_HIGH * (len(signs) - letters)),
        "mm",
        "height x (letter for height x letters + space for height x spaces)",
        Input("height", high, "mm"),
        Input("letter for height", WIDE_FOR_HIGH),
        Input("letters", letters),
        Input("space for height", SPACE_FOR_HIGH),
        Input("spaces", len(signs) - letters),
        source=COMMON_PRACTICE,
    )
    around = Input("inside round", reckoning.circumference_mm, "mm")
    if inscription.face is Face.INSIDE:
        formula, more = "inside round - marks", Input("marks", MARKS_MM, "mm")
        along = reckoning.circumference_mm
        has = along - MARKS_MM
    else:
        formula, more = "inside round + 2 x pi x thickness", Input("thickness", design.thickness_mm, "mm")
        along = has = reckoning.circumference_mm + 2 * math.pi * design.thickness_mm
    notes.note("inscription.has_mm", has, "mm", formula, around, more, source=COMMON_PRACTICE)
    return Room(letters, high, takes, has, along, design.width_mm < NARROWEST_MM, notes.working)
