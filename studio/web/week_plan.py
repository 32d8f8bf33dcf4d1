"""The cutting plan on the week's page: what is short, each piece drawn with its cuts, what was booked."""

import json
from collections.abc import Sequence
from dataclasses import dataclass

from studio.craft.blades import THOUSANDTHS_IN, kerf_mm
from studio.craft.cutting import Opened, WhyUnplaced
from studio.craft.designs import Profile, Stock
from studio.craft.drawing.cutting import NARROW_CUTS, WIDE_CUTS, cut_drawing, cut_scale
from studio.craft.drawing.svg import Svg
from studio.craft.needs import CutGroup, LyingPiece, Shortage, shortages
from studio.craft.own_alloys import short_name
from studio.craft.units import figure_words
from studio.web.counter_choices import Choice
from studio.web.cut_words import kind_words, names_of, piece_cut_words, proof_words, steps_of
from studio.web.plan_board import Search
from studio.web.security import Seat
from studio.web.week_reading import WeekAtHand
from studio.web.wording import counted, hour_words, wire_words

_WHY = {
    WhyUnplaced.NO_STOCK: "There is no such piece in the drawer.",
    WhyUnplaced.TOO_LONG: "Every piece is too short.",
    WhyUnplaced.TOO_WIDE: "Every piece is too narrow.",
    WhyUnplaced.TOO_LARGE: "No piece is both long and wide enough.",
    WhyUnplaced.NO_ROOM: "The pieces are needed for others.",
}


@dataclass(frozen=True, slots=True)
class ShortPart:
    """One kind of blank that no piece yields, as a sentence, with what could help."""

    what: str
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PiecePart:
    """One piece as it is cut: drawn in two cuts, and the order of its cuts in words."""

    mark: str
    what: str
    note: str
    wide: Svg
    narrow: Svg
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanPart:
    """The plan of one kind of stock. `cuts` is what its form sends to be booked."""

    name: str
    pieces: tuple[PiecePart, ...]
    note: str
    cuts: str


@dataclass(frozen=True, slots=True)
class CutPart:
    """A booking that stands, or was undone."""

    id: int
    words: str
    note: str
    is_undone: bool


@dataclass(frozen=True, slots=True)
class WeekPlan:
    """The plan of the week as the page shows it. `is_searching`: a better one may still be found."""

    short: tuple[ShortPart, ...]
    parts: tuple[PlanPart, ...]
    booked: tuple[CutPart, ...]
    is_searching: bool
    kerf: str


def week_plan(hand: WeekAtHand, searches: Sequence[Search], seat: Seat) -> WeekPlan:
    """The plan as far as it is found."""
    marks = {piece.mark: piece for piece in hand.lying}
    scales = {is_wire: _scales(hand, searches, is_wire=is_wire) for is_wire in (False, True)}
    words = names_of(hand)
    return WeekPlan(
        short=short_parts(hand, searches),
        parts=tuple(
            _part(group, one, marks, words, scales[group.kind.stock is Stock.WIRE])
            for group, one in zip(hand.groups, searches, strict=True)
            if one.best.opened
        ),
        booked=tuple(
            CutPart(
                cut.id,
                f"{', '.join(cut.pieces)} for {', '.join(cut.rings)}",
                f"{hour_words(cut.booked_at, seat.zone, seat.today)} by {cut.actor}, "
                f"lemel about {cut.lemel_mg / 1000:.2f} g",
                cut.is_undone,
            )
            for cut in hand.cuts
        ),
        is_searching=not all(one.is_over for one in searches),
        kerf=figure_words(hand.kerf_mm),
    )


def _scales(hand: WeekAtHand, searches: Sequence[Search], *, is_wire: bool) -> tuple[float, float]:
    """The scales of all flat pieces, or of all wires, which are longer: wide and narrow."""
    opened = [
        piece
        for group, one in zip(hand.groups, searches, strict=True)
        for piece in one.best.opened
        if (group.kind.stock is Stock.WIRE) == is_wire
    ]
    return cut_scale(WIDE_CUTS, opened), cut_scale(NARROW_CUTS, opened)


def blade_choices() -> tuple[Choice, ...]:
    """The saw blades a plan may reckon with, and the practice's own cut."""
    blades = (Choice(blade, f"{blade}, {kerf_mm(blade):.2f} mm") for blade in THOUSANDTHS_IN)
    return Choice("", "As in our practice"), *blades


def cut_from(searches: Sequence[Search]) -> dict[str, str]:
    """For each ring the mark of the piece its blank is cut from; a ring without one is short."""
    return {
        cut.blank: piece.stock
        for one in searches
        for piece in one.best.opened
        for strip in piece.strips
        for cut in strip.cuts
    }


def short_parts(hand: WeekAtHand, searches: Sequence[Search]) -> tuple[ShortPart, ...]:
    """What no piece yields, kind by kind."""
    found: dict[str, list[Shortage]] = {}
    for group, one in zip(hand.groups, searches, strict=True):
        for short in shortages(group, one.best, hand.lying, hand.mill):
            found.setdefault(_blank_words(short), []).append(short)
    return tuple(
        ShortPart(f"{what}, {counted(len(same), 'blank', 'blanks')}", _help(same, hand.ordered))
        for what, same in found.items()
    )


def _blank_words(short: Shortage) -> str:
    """'3.5 × 1.6 of 950 platinum', '4 × 1.7 half-round wire of 925 silver'."""
    blank = short.blank
    sides = f"{figure_words(blank.width_um / 1000)} × {figure_words(blank.thickness_um / 1000)}"
    if blank.profile in {Profile.ROUND, Profile.SQUARE}:
        sides = figure_words(blank.width_um / 1000)
    wire = "" if blank.stock is Stock.STRIP else f" {wire_words(blank.profile)}"
    return f"{sides}{wire} of {short_name(blank.alloy)}"


def _help(same: Sequence[Shortage], ordered: frozenset[str]) -> tuple[str, ...]:
    """Why it is short, and what could help: a piece with enough grams, a thicker one to roll down.

    Last what is to be bought; of what is `ordered` already only that it is on its way.
    """
    first = same[0]
    told = [_WHY[first.why]]
    if first.enough is not None:
        piece = first.enough
        is_short = piece.length_um < first.blank.mark_um
        size = (
            f"{figure_words(piece.length_um / 1000)} mm long"
            if is_short
            else f"{figure_words(piece.width_um / 1000)} mm wide"
        )
        told = [f"Piece {piece.mark} holds enough grams but is {size}."]
    if first.rolled is not None:
        piece, rolled = first.rolled
        told.append(
            f"{piece.mark}, {figure_words(piece.thickness_um / 1000)} thick, rolled to "
            f"{figure_words(rolled.thickness_mm)} in {counted(rolled.passes, 'pass', 'passes')} is about "
            f"{rolled.length_mm:.0f} × {figure_words(rolled.width_mm)}."
        )
    return *told, *_to_buy([one for one in same if one.blank.ring not in ordered], len(same))


def _to_buy(left: Sequence[Shortage], of_all: int) -> tuple[str, ...]:
    """What of a kind is to be bought, and how many blanks have their metal on its way."""
    coming = of_all - len(left)
    told = ["Its metal is on its way." if coming == of_all else f"The metal of {coming} is on its way."]
    if not left:
        return tuple(told)
    longest = max(one.blank.mark_um for one in left)
    total = sum(one.blank.mark_um for one in left)
    grams = sum(one.blank.issue_mg for one in left)
    told.append(
        f"To buy: {total / 1000:.1f} mm, the longest {longest / 1000:.1f}, {grams / 1000:.2f} g."
        if len(left) > 1
        else f"To buy: {longest / 1000:.1f} mm, {grams / 1000:.2f} g."
    )
    return tuple(told[0 if coming else 1 :])


def _part(
    group: CutGroup,
    search: Search,
    marks: dict[str, LyingPiece],
    words: dict[str, tuple[str, ...]],
    scales: tuple[float, float],
) -> PlanPart:
    plan = search.best
    kind = group.kind
    return PlanPart(
        name=kind_words(group),
        pieces=tuple(_piece(piece, marks[piece.stock], words, scales) for piece in plan.opened),
        note=proof_words(plan, is_over=search.is_over),
        cuts=json.dumps(
            [
                {
                    "piece": marks[piece.stock].id,
                    "version": marks[piece.stock].version,
                    "strips": [
                        [strip.width_um if kind.width_um is None else marks[piece.stock].width_um,
                         [[cut.blank, cut.length_um] for cut in strip.cuts]]
                        for strip in piece.strips
                    ],
                }
                for piece in plan.opened
            ],
            separators=(",", ":"),
        ),
    )  # fmt: skip


def _piece(
    opened: Opened,
    piece: LyingPiece,
    words: dict[str, tuple[str, ...]],
    scales: tuple[float, float],
) -> PiecePart:
    blanks = sum(len(strip.cuts) for strip in opened.strips)
    what = piece_cut_words(opened, piece)
    label = f"{piece.mark}, {what}: {counted(blanks, 'blank', 'blanks')}"
    return PiecePart(
        mark=piece.mark,
        what=what,
        note=counted(blanks, "blank", "blanks"),
        wide=cut_drawing(opened, words, WIDE_CUTS, scales[0], label),
        narrow=cut_drawing(opened, words, NARROW_CUTS, scales[1], label),
        steps=steps_of(opened, words),
    )
