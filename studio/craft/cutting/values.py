"""What a cutting plan is made of: pieces at hand, blanks asked for, and the plan. All in micrometres."""

from dataclasses import dataclass, field
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Stock:
    """`count` equal pieces of sheet, strip or wire; the length runs along the rolling direction.

    A wire has its diameter as width. `is_offcut` marks what is left of an earlier cut and wants to be used
    before a fresh piece.
    """

    id: str
    length_um: int
    width_um: int
    count: int = 1
    is_offcut: bool = False

    def __post_init__(self) -> None:
        _must_be_above_zero(self.id, self.length_um, self.width_um, self.count)

    @property
    def area_um2(self) -> int:
        """Length times width of one piece."""
        return self.length_um * self.width_um


@dataclass(frozen=True, slots=True)
class Blank:
    """`count` equal blanks, cut along the rolling direction unless they may turn."""

    id: str
    length_um: int
    width_um: int
    count: int = 1
    may_turn: bool = False

    def __post_init__(self) -> None:
        _must_be_above_zero(self.id, self.length_um, self.width_um, self.count)


class WhyUnplaced(StrEnum):
    """Why a blank is in no piece."""

    NO_STOCK = "no stock"  # there is no piece at all
    TOO_LONG = "too long"  # for every piece
    TOO_WIDE = "too wide"  # for every piece
    TOO_LARGE = "too large"  # some piece is long enough and some other wide enough, none is both
    NO_ROOM = "no room"  # it would go into some piece, were that not needed for others


@dataclass(frozen=True, slots=True)
class Cut:
    """One blank in a strip. `length_um` is what it takes along the strip: its width where it is turned."""

    blank: str
    length_um: int
    is_turned: bool


@dataclass(frozen=True, slots=True)
class Strip:
    """One strip ripped from a piece, as wide as the blanks crosscut from it, in the order of cutting."""

    width_um: int
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True)
class Offcut:
    """A rectangle left over, after the kerf of the cut that freed it."""

    length_um: int
    width_um: int

    @property
    def area_um2(self) -> int:
        """Length times width."""
        return self.length_um * self.width_um


@dataclass(frozen=True, slots=True)
class Opened:
    """One piece to be cut: its strips in the order of ripping, and its offcuts: the strips', then its own."""

    stock: str
    length_um: int
    width_um: int
    is_offcut: bool
    strips: tuple[Strip, ...]
    offcuts: tuple[Offcut, ...]

    @property
    def area_um2(self) -> int:
        """Length times width of the whole piece."""
        return self.length_um * self.width_um

    @property
    def lemel_um2(self) -> int:
        """What the saw takes of the piece: all that is neither blank nor offcut."""
        blanks = sum(cut.length_um * strip.width_um for strip in self.strips for cut in strip.cuts)
        return self.area_um2 - blanks - sum(offcut.area_um2 for offcut in self.offcuts)


@dataclass(frozen=True, slots=True)
class Unplaced:
    """One blank that is in no piece, and why."""

    blank: str
    why: WhyUnplaced


@dataclass(frozen=True, slots=True)
class Plan:
    """Which blanks are cut from which pieces.

    `bound_area_um2` is never above the area opened, and no plan that places these blanks opens less.
    `is_proved`: no plan places more blanks or earlier ones, and none that places these opens less area.
    `seconds` is what it took; plans are equal whatever they took.
    """

    pieces: tuple[Opened, ...]
    unplaced: tuple[Unplaced, ...]
    opened_area_um2: int
    bound_area_um2: int
    is_proved: bool
    seconds: float = field(default=0.0, compare=False)

    @property
    def gap(self) -> float:
        """How much more may be opened than the best plan opens, as a share of its area; 0 where proved."""
        if self.opened_area_um2 == self.bound_area_um2:
            return 0.0
        return self.opened_area_um2 / self.bound_area_um2 - 1 if self.bound_area_um2 else 1.0


def _must_be_above_zero(name: str, *figures: int) -> None:
    if min(figures) < 1:
        raise ValueError(f"{name}: length, width and count are above zero")
