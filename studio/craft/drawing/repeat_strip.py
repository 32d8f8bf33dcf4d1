"""The strip before its pattern at true scale, lines between whole repeats, to be laid on the metal."""

from studio.craft.drawing.lines import PAPER_PEN, SANS
from studio.craft.drawing.paper import TEXT_MM
from studio.craft.drawing.strip import GOES_ON, LEFT_MM, row_outline, rows_of
from studio.craft.drawing.svg import Svg, drawing, element, text
from studio.craft.drawing.type_widths import text_width
from studio.craft.repeats import Repeats
from studio.craft.units import figure_words

_NUMBERED = 5
"""Every fifth line bears its number, so that none is lost count of."""
_TICK = 2.2


def repeat_strip(found: Repeats, width_mm: float, room_mm: float) -> Svg:
    """The strip of `found` as it is marked, both its ends the seam, over as many rows as the room asks for.

    Lines stand across the strip and reach over its upper edge; every fifth is numbered where there is room.
    """
    length = found.marked_length_mm
    told = figure_words(width_mm)
    beside = 2 + max(text_width(told, TEXT_MM), text_width(GOES_ON, TEXT_MM))
    rows = rows_of(length, room_mm - LEFT_MM - beside)
    room = text_width("000", TEXT_MM)
    every = next(n for n in (_NUMBERED, 10, 20, 50, 1_000) if n * found.marked_mm > room)
    parts, top = [], TEXT_MM * 1.2 + _TICK
    for row in rows:
        foot = top + width_mm
        here = [(i, at) for i, at in enumerate(found.marks_mm) if row.start - 1e-6 <= at <= row.end + 1e-6]
        inner = [LEFT_MM + at - row.start for i, at in here if 0 < i < found.count]
        data = "".join(f"M{x:.3f} {top - _TICK / 2:.2f}V{foot:.2f}" for x in inner)
        if inner:
            parts.append(
                element(
                    "path",
                    d=data,
                    fill="none",
                    stroke=PAPER_PEN.ink,
                    stroke_width=PAPER_PEN.hair,
                    data_part="repeat",
                )
            )
        parts.append(row_outline(row, top, width_mm, length, is_whole=True))
        parts += [
            text(str(i), LEFT_MM + at - row.start, top - _TICK, TEXT_MM, text_anchor="middle")
            for i, at in here
            if 0 < i < found.count and i % every == 0 and 2.5 < at - row.start < row.long - 2.5
        ]
        is_last = row is rows[-1]
        parts.append(
            text(
                told if is_last else GOES_ON,
                LEFT_MM + row.long + 2,
                (top + foot) / 2 + TEXT_MM * 0.33,
                TEXT_MM,
            )
        )
        if row.start == 0:
            parts.append(text("seam", 0.2, foot + TEXT_MM * 1.1, TEXT_MM))
        if is_last and row.long > 25:
            x = LEFT_MM + row.long
            parts.append(text("seam", x, foot + TEXT_MM * 1.1, TEXT_MM, text_anchor="end"))
        top = foot + TEXT_MM * 2.8 + _TICK
    return drawing(
        *parts,
        width=LEFT_MM + max(row.long for row in rows) + beside,
        height=top - TEXT_MM * 1.4 - _TICK,
        unit="mm",
        label=f"The strip before its pattern at true scale, {length:.2f} mm long, {found.count} repeats"
        f" marked {found.marked_mm:.3f} mm apart, the seam at both ends.",
        font_family=SANS,
    )
