"""The cutting plan on paper: each piece drawn to scale with the order of its cuts, and what is short."""

from dataclasses import dataclass
from datetime import date
from functools import partial

from studio.craft.cutting import Opened
from studio.craft.drawing.cutting import PAPER_CUTS, Names, cut_drawing, cut_scale
from studio.craft.drawing.svg import Svg
from studio.papers.days import full_day_words
from studio.papers.figures import spoken
from studio.papers.paper import Paper


@dataclass(frozen=True, slots=True)
class PieceToSaw:
    """One piece with its cuts. `names` is what may be written on a blank, `steps` the cuts in words."""

    mark: str
    what: str
    opened: Opened
    names: Names
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class KindToSaw:
    """The pieces of one alloy, form of stock and thickness, and what is proved of their plan."""

    name: str
    note: str
    is_wire: bool
    pieces: tuple[PieceToSaw, ...]


@dataclass(frozen=True, slots=True)
class CuttingToPrint:
    """All that the paper tells of a window of bench days."""

    days: str
    kerf: str
    kinds: tuple[KindToSaw, ...]
    short: tuple[str, ...]
    printed_on: date


@dataclass(frozen=True, slots=True)
class SawnPiece:
    """One piece, ready to print."""

    mark: str
    what: str
    drawing: Svg
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SawnKind:
    """The pieces of one kind, ready to print."""

    name: str
    note: str
    pieces: tuple[SawnPiece, ...]


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """All that the paper shows, ready to print."""

    days: str
    kerf: str
    kinds: tuple[SawnKind, ...]
    short: tuple[str, ...]
    printed: str


def cutting_plan(told: CuttingToPrint) -> Paper:
    """The paper of a plan; it runs over as many pages as it takes."""
    return Paper("cutting_plan", (partial(cutting_page, told),), f"Cutting plan, {told.days}")


def cutting_page(told: CuttingToPrint) -> CuttingPlan:
    """The plan worked out and drawn: at true size where all of a form go on the page, else smaller."""
    scales = {
        is_wire: cut_scale(
            PAPER_CUTS, [one.opened for kind in told.kinds for one in kind.pieces if kind.is_wire == is_wire]
        )
        for is_wire in (False, True)
    }
    return CuttingPlan(
        days=told.days,
        kerf=told.kerf,
        kinds=tuple(
            SawnKind(kind.name, kind.note, tuple(_sawn(piece, scales[kind.is_wire]) for piece in kind.pieces))
            for kind in told.kinds
        ),
        short=told.short,
        printed=full_day_words(told.printed_on),
    )


def _sawn(piece: PieceToSaw, scale: float) -> SawnPiece:
    label = f"{piece.mark}, {piece.what}"
    drawn = cut_drawing(piece.opened, piece.names, PAPER_CUTS, scale, label)
    return SawnPiece(piece.mark, piece.what, spoken(drawn), piece.steps)
