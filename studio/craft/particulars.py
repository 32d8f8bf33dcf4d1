"""What a ring is beyond its metal: its finish, its inscription. Each is asked, or not asked yet.

The words are the trade's own; how large letters are and what room they take is in `inscriptions`.
"""

from dataclasses import dataclass
from enum import StrEnum


class Surface(StrEnum):
    """How a face of the ring is finished."""

    POLISHED = "polished"
    MATT = "matt"
    OXIDISED = "oxidised"
    PLATED = "plated"


class Face(StrEnum):
    """Which face of the ring: the one on the finger, or the one that is seen."""

    INSIDE = "inside"
    OUTSIDE = "outside"


class Lettering(StrEnum):
    """How the letters are drawn."""

    ROMAN = "roman"
    SCRIPT = "script"
    CAPITALS = "capitals"
    OWN_HAND = "own hand"  # as the customer wrote it, after a drawing


@dataclass(frozen=True, slots=True)
class Inscription:
    """Words on the ring, sign by sign as they are to be cut. No text: asked, and none is wanted.

    `letter_mm` is the height of a capital, None for what suits the width. `is_read_back` once it was read
    back letter by letter to whoever ordered it.
    """

    text: str = ""
    face: Face = Face.INSIDE
    lettering: Lettering = Lettering.ROMAN
    letter_mm: float | None = None
    is_read_back: bool = False

    @property
    def is_wanted(self) -> bool:
        """Whether there is anything to cut."""
        return bool(self.text)


class Whose(StrEnum):
    """Whose a stone is."""

    STUDIO = "studio"
    CUSTOMER = "customer"


class Setting(StrEnum):
    """How a stone is held."""

    BEZEL = "bezel"
    CLAW = "claw"
    FLUSH = "flush"
    CHANNEL = "channel"
    PAVE = "pave"


class Risk(StrEnum):
    """Who bears it where a stone breaks while it is set."""

    CUSTOMER = "customer"
    STUDIO = "studio"


@dataclass(frozen=True, slots=True)
class Stone:
    """Equal stones of one ring. What they are said to be and what was found are two things, never one.

    `value` is what they are declared to be worth, in the words of whose they are. `risk` None: not answered.
    """

    count: int = 1
    whose: Whose = Whose.STUDIO
    shape: str = ""
    size: str = ""
    stated: str = ""
    tested: str = ""
    condition: str = ""
    value: str = ""
    setting: Setting | None = None
    risk: Risk | None = None

    @property
    def wants_an_answer(self) -> bool:
        """Whether it is the customer's, and nobody said who bears the risk of setting it."""
        return self.whose is Whose.CUSTOMER and self.risk is None


class MarkWish(StrEnum):
    """Which hallmark the customer wants, within what the rule asks."""

    AS_RULE = "as the rule asks"
    THOUGH_EXEMPT = "marked though exempt"
    NONE = "no mark where the rule leaves it free"


class MarkPlace(StrEnum):
    """Where the marks are struck."""

    INSIDE = "inside shank"
    OUTSIDE = "outside"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Marks:
    """The marks of one ring: its hallmark, whether the sponsor's mark is struck, and where."""

    hallmark: MarkWish = MarkWish.AS_RULE
    has_sponsor: bool = True
    where: MarkPlace = MarkPlace.INSIDE

    @property
    def has_no_place(self) -> bool:
        """Whether something may have to be struck, and no place is left for it."""
        may_be_struck = self.has_sponsor or self.hallmark is not MarkWish.NONE
        return may_be_struck and self.where is MarkPlace.NONE

    @property
    def line(self) -> str:
        """'marked though exempt, sponsor's mark struck, inside shank'."""
        sponsor = "sponsor's mark struck" if self.has_sponsor else "no sponsor's mark"
        where = "" if self.where is MarkPlace.NONE else f", {self.where}"
        return f"{self.hallmark}, {sponsor}{where}"


@dataclass(frozen=True, slots=True)
class Particulars:
    """What a ring is beyond its metal; None for what was not asked yet. No stones: asked, and none wanted."""

    inside: Surface | None = None
    outside: Surface | None = None
    inscription: Inscription | None = None
    stones: tuple[Stone, ...] | None = None
    marks: Marks | None = None

    @property
    def stone_count(self) -> int:
        """How many stones are set, of all kinds together."""
        return sum(stone.count for stone in self.stones or ())

    @property
    def is_risk_answered(self) -> bool:
        """Whether of every stone of the customer's it is said who bears the risk of setting it."""
        return not any(stone.wants_an_answer for stone in self.stones or ())

    @property
    def is_finish_asked(self) -> bool:
        """Whether both faces were spoken of."""
        return self.inside is not None and self.outside is not None

    @property
    def words_to_cut(self) -> Inscription | None:
        """The inscription, where there is one to cut."""
        return self.inscription if self.inscription is not None and self.inscription.is_wanted else None

    @property
    def is_plated(self) -> bool:
        """Whether any face is plated."""
        return Surface.PLATED in {self.inside, self.outside}


NOT_ASKED = Particulars()
"""Nothing was asked yet."""


def finish_words(particulars: Particulars) -> str:
    """'polished inside, matt outside', 'matt inside and outside', '' where nothing was asked."""
    inside, outside = particulars.inside, particulars.outside
    if inside is not None and inside is outside:
        return f"{inside} {Face.INSIDE} and {Face.OUTSIDE}"
    told = [
        f"{surface} {face}"
        for face, surface in ((Face.INSIDE, inside), (Face.OUTSIDE, outside))
        if surface is not None
    ]
    return ", ".join(told)
