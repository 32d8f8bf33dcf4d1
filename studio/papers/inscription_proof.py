"""The proof of an inscription: its words at true size on the strip they go on, to be read and signed."""

from dataclasses import dataclass
from datetime import date
from functools import partial

from studio.craft.directions import apart, runs_from_right
from studio.craft.drawing import Svg, check_bar_across
from studio.craft.drawing.inscription import CUT_MM, SIDE_MM, inscription_row
from studio.craft.inscription_strip import StripRow, strip_rows
from studio.craft.inscriptions import MARKS_MM, Room, letters_of, room_of
from studio.craft.particulars import Face, Inscription, Lettering
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words
from studio.papers.days import full_day_words
from studio.papers.figures import spoken
from studio.papers.paper import Paper
from studio.papers.particulars_words import room_sentences
from studio.papers.true_letters import CAPITAL, TrueLetters, narrowed_to

TEMPLATE = "inscription_proof"
LONGEST_ROW_MM = 176.0
"""A4 less its margins, and less what a cut mark reaches beyond a row's end."""
_LETTERING = {
    Lettering.ROMAN: "Set here in type; cut in roman letters.",
    Lettering.SCRIPT: "Set here in type; cut in script, whose letters lean and join.",
    Lettering.CAPITALS: "Set here in type; cut in capitals.",
    Lettering.OWN_HAND: "Set here in type; cut in the customer's own hand, as drawn.",
}


@dataclass(frozen=True, slots=True)
class InscriptionToProve:
    """One ring of an order with the words to cut into it. No contact, no price."""

    number: str
    version: int
    position: int
    count: int
    customer: str
    inscription: Inscription
    reckoning: Reckoning
    printed_on: date


@dataclass(frozen=True, slots=True)
class ProofFigure:
    """One figure under the head: what it is, the figure, one line of sense."""

    label: str
    value: str
    sense: str


@dataclass(frozen=True, slots=True)
class ProofRow:
    """One row of the strip: the drawing, the words over it, and what is to be known of the row."""

    strip: Svg
    words: TrueLetters
    note: str


@dataclass(frozen=True, slots=True)
class ProofSign:
    """One sign with its place, as it is read."""

    place: int
    sign: str
    is_space: bool


@dataclass(frozen=True, slots=True)
class InscriptionProof:
    """All that the paper shows, ready to print."""

    number: str
    customer: str
    ring: str
    not_read: bool
    figures: tuple[ProofFigure, ...]
    room: tuple[str, ...]
    set_in: str
    rows: tuple[ProofRow, ...]
    signs: tuple[ProofSign, ...]
    direction: str
    across: Svg
    foot: str


def inscription_proof(told: InscriptionToProve) -> Paper:
    """The paper of one ring's inscription. There has to be one."""
    title = f"Inscription {told.number}, ring {told.position}"
    return Paper(TEMPLATE, (partial(proof_page, told),), title)


def proof_page(told: InscriptionToProve) -> InscriptionProof:
    """The page worked out, its letters measured and drawn."""
    words, room = told.inscription, room_of(told.inscription, told.reckoning)
    from_right = runs_from_right(words.text)
    ring = f"ring {told.position} of {told.count}"
    return InscriptionProof(
        number=told.number,
        customer=apart(told.customer),
        ring=ring,
        not_read=not words.is_read_back,
        figures=_figures(words, room),
        room=room_sentences(words, told.reckoning),
        set_in=_LETTERING[words.lettering],
        rows=_rows(words, room, told.reckoning.design.width_mm, from_right=from_right),
        signs=tuple(
            ProofSign(place, "space" if sign.isspace() else sign, sign.isspace())
            for place, sign in enumerate(letters_of(words.text), 1)
        ),
        direction="rtl" if from_right else "ltr",
        across=spoken(check_bar_across()),
        foot=f"{told.number}, {ring}, version {told.version}, {full_day_words(told.printed_on)}",
    )


def _figures(words: Inscription, room: Room) -> tuple[ProofFigure, ...]:
    kept = (
        f"less {figure_words(MARKS_MM)} for the marks" if words.face is Face.INSIDE else "all the way round"
    )
    return (
        ProofFigure("Once round", f"{room.round_mm:.2f}", f"mm, {words.face}"),
        ProofFigure("It has", f"{room.has_mm:.1f}", f"mm, {kept}"),
        ProofFigure("It takes", f"{room.takes_mm:.1f}", "mm, about"),
        ProofFigure("Capitals", figure_words(room.letter_mm), "mm high"),
    )


def _rows(words: Inscription, room: Room, width_mm: float, *, from_right: bool) -> tuple[ProofRow, ...]:
    rows = strip_rows(words.text, room, LONGEST_ROW_MM)
    lines = [(row.words.strip(), row.words_to_mm - row.words_from_mm) for row in rows]
    size_mm = room.letter_mm / CAPITAL
    is_in_the_middle = len(rows) == 1 and not room.is_too_long
    return tuple(
        ProofRow(
            strip=spoken(
                inscription_row(
                    row, width_mm, room.has_mm, _spoken(row, place, len(rows)), from_right=from_right
                )
            ),
            words=TrueLetters(
                words=line,
                size_mm=size_mm,
                beside_mm=SIDE_MM + ((room.has_mm - room.takes_mm) / 2 if is_in_the_middle else 0.0),
                base_line_mm=CUT_MM + (width_mm + room.letter_mm) / 2,
                narrowed=narrowed,
                from_right=from_right,
            ),
            note=_note(row, place, len(rows), room),
        )
        for place, (row, (line, _), narrowed) in enumerate(
            zip(rows, lines, narrowed_to(lines, room.letter_mm), strict=True), 1
        )
    )


def _spoken(row: StripRow, place: int, count: int) -> str:
    return f"The strip at true size, row {place} of {count}, {row.ring_mm:.2f} mm of the way round."


def _note(row: StripRow, place: int, count: int, room: Room) -> str:
    if count == 1 and not room.is_too_long:
        kept = "" if room.has_mm == room.round_mm else "; beyond the broken line stand the marks"
        return f"{row.ring_mm:.2f} mm at true size: once round{kept}"
    over = row.to_mm - max(row.ring_to_mm, row.from_mm)
    told = [f"Row {place} of {count}"] if count > 1 else []
    told += [f"{row.ring_mm:.2f} mm of the strip"] if row.ring_mm > 0 else []
    told += ["goes on in the next row"] if row.is_cut_after else []
    told += [f"{over:.1f} mm more than once round"] if over > 0.05 else []
    return ", ".join(told)
