"""An operation of a ring's way over the bench: what is done, why, with what, and what it does to the ring."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from studio.craft.alloys import Alloy, Metal
from studio.craft.cautions import Caution, in_full
from studio.craft.solders import Grade
from studio.craft.working import Input

INSCRIBE = "inscribe"
"""The key of the operation that cuts an inscription; it is priced by the letter, not by the minute."""

SET = "set"
"""The key of the operation that sets the stones; it is priced by the stone."""


class Does(StrEnum):
    """What an operation does to the ring. The rules of order speak of this, so that they hold for any."""

    WEIGHS_OUT = "weighs the metal out"
    TRIES = "makes a trial"
    ROLLS = "goes through the rolls"
    CUTS = "saws the blank off"
    STRETCHES_STRIP = "stretches the strip"
    PATTERNS_STRIP = "patterns the flat strip"
    PATTERNS_RING = "patterns the closed ring"
    MENDS_PATTERN = "works the pattern over the seam"
    HARDENS = "hardens the metal"
    SQUARES = "squares the ends"
    HEATS = "heats the ring"
    ANNEALS = "anneals"
    PICKLES = "goes into the pickle"
    FIRES_PLATINUM = "heats platinum or palladium"
    BENDS = "bends the strip"
    CLOSES = "closes the seam"
    SOLDERS = "solders"
    ROUNDS = "rounds the ring up"
    FILES_SEAM = "files the seam"
    FILES_OUTSIDE = "files the outside"
    FORMS = "sinks the edges"
    RESIZES = "moves the size"
    CHECKS_SIZE = "checks the size"
    JOINS_SETTING = "solders a setting on"
    CUTS_SEATS = "cuts seats for stones"
    MARKS = "has the hallmark struck"
    ENGRAVES = "engraves"
    POLISHES = "finishes the faces"
    WHEELS_OUTSIDE = "takes a wheel to the outside"
    MATCHES = "compares the pair"
    SETS = "sets stones"
    SETS_DELICATE = "sets delicate stones"
    SETS_STURDY = "sets sturdy stones"
    PLATES = "plates"


@dataclass(frozen=True, slots=True)
class Measure:
    """What is measured at an operation and written beside it."""

    label: str
    unit: str


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation: `name` opens the sentence and is set heavy, `text` goes on with it.

    `key` is its own within a route and stable: `anneal` comes before `bend`. `cautions` are those a sheet
    prints beside it, `also` those it has told a line before. `solder` is the grade it solders with. `course`
    is 0, or the how-manieth of one work that is done in courses, which share one `row` of the minutes.
    `in_passing` is what a sheet that is short of room says of it in the line before. `keep` says why it may
    not be left out, '' where it may. `minutes` is None where nobody has said how long.
    """

    key: str
    name: str
    text: str
    cautions: tuple[Caution, ...] = ()
    measure: Measure | None = None
    does: frozenset[Does] = frozenset()
    why: str = ""
    figures: tuple[Input, ...] = ()
    tools: tuple[str, ...] = ()
    check: str = ""
    also: tuple[Caution, ...] = ()
    solder: Grade | None = None
    course: int = 0
    row: str = ""
    in_passing: str = ""
    keep: str = ""
    is_own: bool = False
    minutes: float | None = None

    @property
    def caution(self) -> str | None:
        """All cautions of the operation as one line of its sheet, or None."""
        return " ".join(self.cautions) or None

    @property
    def cautions_in_full(self) -> tuple[str, ...]:
        """Every caution in a sentence, and at last that local rules come first; none where it has none."""
        return in_full((*self.cautions, *self.also))

    @property
    def minutes_row(self) -> str:
        """The row of the studio's minutes it is planned by."""
        return self.row or self.key


def lines_of_sheet(operations: Sequence[Operation]) -> tuple[Operation, ...]:
    """The operations a sheet has a line for, since it has one page.

    Of a work in courses the first line tells of all. What can be said in passing stands in the line before,
    with its cautions, unless that is a line of the fire, which is full.
    """
    lines: list[Operation] = []
    for one in operations:
        if one.course > 1:
            continue
        if one.in_passing and lines and Does.HEATS not in lines[-1].does:
            before = lines[-1]
            cautions = tuple(dict.fromkeys((*before.cautions, *one.cautions)))
            lines[-1] = replace(before, text=f"{before.text} {one.in_passing}", cautions=cautions)
        else:
            lines.append(one)
    return tuple(lines)


def what_it_does(*done: Does) -> frozenset[Does]:
    """These, with what goes along: soldering and annealing heat the ring, delicate stones are stones."""
    along = {
        Does.ANNEALS: {Does.HEATS},
        Does.SOLDERS: {Does.HEATS},
        Does.CLOSES: {Does.SOLDERS, Does.HEATS},
        Does.JOINS_SETTING: {Does.SOLDERS, Does.HEATS},
        Does.FIRES_PLATINUM: {Does.HEATS},
        Does.SETS_DELICATE: {Does.SETS},
        Does.SETS_STURDY: {Does.SETS},
        Does.PATTERNS_RING: {Does.HARDENS, Does.RESIZES},
        Does.MENDS_PATTERN: {Does.HARDENS, Does.RESIZES},
        Does.ROUNDS: {Does.HARDENS, Does.RESIZES},
        Does.FORMS: {Does.HARDENS, Does.RESIZES},
        Does.BENDS: {Does.HARDENS},
        Does.ROLLS: {Does.HARDENS, Does.STRETCHES_STRIP},
    }
    found = set(done)
    for one in done:
        found |= along.get(one, set())
    return frozenset(found)


_CAUTIONS_OF: tuple[tuple[Does, tuple[Caution, ...]], ...] = (
    (Does.ROLLS, (Caution.ROLLS,)),
    (Does.CUTS, (Caution.EYES,)),
    (Does.HARDENS, (Caution.BLOWS,)),
    (Does.HEATS, (Caution.TORCH, Caution.HOT)),
    (Does.SOLDERS, (Caution.FUME,)),
    (Does.PICKLES, (Caution.PICKLE,)),
    (Does.FIRES_PLATINUM, (Caution.DARK_GLASSES, Caution.NO_PICKLE)),
    (Does.FILES_OUTSIDE, (Caution.FILINGS,)),
    (Does.CUTS_SEATS, (Caution.EYES, Caution.MOTOR)),
    (Does.ENGRAVES, (Caution.EYES, Caution.GRAVER)),
    (Does.POLISHES, (Caution.MOTOR,)),
    (Does.WHEELS_OUTSIDE, (Caution.MOTOR,)),
    (Does.PLATES, (Caution.BATH,)),
)


def cautions_of(does: frozenset[Does]) -> tuple[Caution, ...]:
    """What whoever does this has to heed, each once, for an operation that only says what it does.

    Annealing and pickling by hand give the torch, that hot looks cold, and the acid.
    """
    return tuple(dict.fromkeys(caution for done, said in _CAUTIONS_OF if done in does for caution in said))


def is_pickled(alloy: Alloy) -> bool:
    """Platinum and palladium come clean from the fire: no flux, no pickle. From memory of bench handbooks."""
    return alloy.metal not in {Metal.PLATINUM, Metal.PALLADIUM}


def after_fire(alloy: Alloy) -> str:
    """Cooling and cleaning: always cooled first, so that nothing hot meets the acid."""
    return f"{alloy.anneal.quench} Pickle, rinse." if is_pickled(alloy) else alloy.anneal.quench


def fire(alloy: Alloy) -> frozenset[Does]:
    """What any heat does to a ring of this alloy: it goes into the pickle after, or is of platinum's kind."""
    return frozenset({Does.HEATS, Does.PICKLES if is_pickled(alloy) else Does.FIRES_PLATINUM})


def acid(alloy: Alloy) -> tuple[Caution, ...]:
    """The caution of what follows the fire: the acid, or that there is none."""
    return (Caution.PICKLE,) if is_pickled(alloy) else ()


def torch(alloy: Alloy) -> Caution:
    """The caution of annealing: platinum and palladium are heated with oxygen, the others with air."""
    return Caution.TORCH if is_pickled(alloy) else Caution.OXYGEN
