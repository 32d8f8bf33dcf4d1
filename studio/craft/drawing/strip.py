"""The strip at true scale as the maker meets it: set out on the stock, then squared, with what stays whole.

The unit is the millimetre. Outlines lie wholly on the metal's side of the true edge. A strip longer than the
room across goes on in a row below, its cut drawn as a broken edge.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from studio.craft.drawing.lines import PAPER_PEN, SANS, Figure, across, broken_line, chain_line, hatching
from studio.craft.drawing.paper import BLANK_LINE_MM, LEAD_MM, TEXT_MM, sheet_blank
from studio.craft.drawing.svg import Svg, drawing, element, text
from studio.craft.drawing.type_widths import text_width
from studio.craft.reckonings import Reckoning
from studio.craft.strip_zones import Zone, has_struck_face
from studio.craft.units import figure_words

SHOWN_MM = 5.0
"""How much of the width the squared strip shows: it is there for its length; the width is drawn above."""
LEFT_MM, _STUB, _HATCH, _BAR = 0.4, 1.6, 1.4, 1.6
GOES_ON = "goes on"
_WHOLE = "no saw, file or wheel"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a strip: the part of it that is drawn there, in mm along it."""

    start: float
    end: float

    @property
    def long(self) -> float:
        """How long the part is."""
        return self.end - self.start


def rows_of(length_mm: float, room_mm: float) -> tuple[Row, ...]:
    """The rows a strip goes over, whole tens of mm in all but the last. 121 mm in 105: 0 to 100 to 121."""
    if length_mm <= room_mm:
        return (Row(0.0, length_mm),)
    step = max(10.0, room_mm // 10 * 10)
    rows, at = [], 0.0
    while at + room_mm < length_mm:
        rows.append(Row(at, at + step))
        at += step
    return (*rows, Row(at, length_mm))


def row_outline(row: Row, top: float, high: float, length: float, *, is_whole: bool) -> str:
    """The row's outline, inset by half its line; a cut end is a broken edge, a foot not shown is open."""
    inset = BLANK_LINE_MM / 2
    left, right = LEFT_MM + inset, LEFT_MM + row.long - inset
    head, foot = top + inset, top + high - inset
    data = f"M{left:.3f} {head:.3f}H{right:.3f}"
    if is_whole:
        data += f"M{left:.3f} {foot:.3f}H{right:.3f}"
    for x, is_end, way in ((left, row.start == 0, -1), (right, row.end == length, 1)):
        mid = (head + foot) / 2
        data += f"M{x:.3f} {head:.3f}" + (
            f"V{foot:.3f}" if is_end else f"V{mid - 1:.3f}l{0.5 * way} .5l{-way} 1l{0.5 * way} .5V{foot:.3f}"
        )
    return element(
        "path", d=data, fill="none", stroke=PAPER_PEN.ink, stroke_width=BLANK_LINE_MM, data_part="blank"
    )


def _stubs(row: Row, at: float, top: float, foot: float) -> str:
    """The centre line at `at` along the strip, outside both its edges, where it can be marked."""
    if not row.start <= at <= row.end:
        return ""
    x, out = LEFT_MM + at - row.start, _STUB
    data = f"M{x:.2f} {top - 0.3:.2f}V{top - out:.2f}M{x:.2f} {foot + 0.3:.2f}V{foot + out:.2f}"
    return chain_line(PAPER_PEN, data)


def long_blank(reckoning: Reckoning, room_mm: float) -> Svg:
    """The blank set out on the stock over as many rows as it needs; `sheet_blank` is one row."""
    design, length, trim = reckoning.design, reckoning.mark_mm, reckoning.trim_mm / 2
    width = Figure(figure_words(design.width_mm), LEAD_MM, 600)
    words = f"{width.words} wide"
    beside = 3 + max(text_width(words, LEAD_MM, 600), text_width(GOES_ON, LEAD_MM))
    rows = rows_of(length, room_mm - LEFT_MM - beside)
    parts, top = [], 9.0
    for row in rows:
        is_last = row is rows[-1]
        foot, end = top + design.width_mm, LEFT_MM + row.long
        told = f"{row.end:.1f}" if not is_last else f"mark {length:.1f}"
        parts += [
            row_outline(row, top, design.width_mm, length, is_whole=True),
            across(PAPER_PEN, (LEFT_MM, end), Figure(told, LEAD_MM, 600), line=top - 4, edge=top),
            text(
                words if is_last else GOES_ON,
                end + 2,
                (top + foot) / 2 + LEAD_MM * 0.33,
                LEAD_MM,
                font_weight="600" if is_last else None,
            ),
        ]
        for at in (trim, length - trim):
            if trim > 0 and row.start <= at <= row.end:
                parts.append(broken_line(PAPER_PEN, f"M{LEFT_MM + at - row.start:.2f} {top:.2f}V{foot:.2f}"))
        top = foot + 10.5
    return drawing(
        *parts,
        width=LEFT_MM + max(row.long for row in rows) + beside,
        height=top - 9,
        unit="mm",
        label=f"The blank at true scale in {len(rows)} rows, {length:.1f} mm long and {width.words} mm wide,"
        f" its ends trued {figure_words(trim)} mm in.",
        font_family=SANS,
    )


def blank_within(reckoning: Reckoning, room_mm: float) -> Svg:
    """The blank set out on the stock, on one row where `room_mm` lets it, else over several."""
    on_one_row = sheet_blank(reckoning)
    return on_one_row if on_one_row.width <= room_mm else long_blank(reckoning, room_mm)


def squared_strip(reckoning: Reckoning, zones: Sequence[Zone], room_mm: float) -> Svg | None:
    """The strip once it is squared: its true length, its centre, hatched what nothing may cut. None if none.

    A struck face is hatched over all its length. Where letters and marks will stand, a hatched bar lies under
    the edge with its word. Of a broad strip the upper 5 mm are drawn, its foot left open.
    """
    is_struck = has_struck_face(reckoning)
    if not (is_struck or zones):
        return None
    length = reckoning.true_length_mm
    told = f"{length:.2f}"
    beside = 2.2 + text_width(told, TEXT_MM)
    if LEFT_MM + length + beside > room_mm:
        beside = 2.2 + max(text_width(told, TEXT_MM), text_width(GOES_ON, TEXT_MM))
    rows = rows_of(length, room_mm - LEFT_MM - beside)
    is_whole = reckoning.design.width_mm <= SHOWN_MM
    high = min(reckoning.design.width_mm, SHOWN_MM)
    widest = LEFT_MM + max(row.long for row in rows) + beside
    parts, top = [], _STUB
    for row in rows:
        foot, end = top + high, LEFT_MM + row.long
        if is_struck:
            parts.append(_struck(row, top, high))
        parts += [
            row_outline(row, top, high, length, is_whole=is_whole),
            _stubs(row, length / 2, top, foot),
            text(told if row is rows[-1] else GOES_ON, end + 2, (top + foot) / 2 + TEXT_MM * 0.33, TEXT_MM),
        ]
        below, foot = _kept_whole(row, zones, foot, widest, is_struck=is_struck and not _fits(row, high))
        parts += below
        top = foot + 2 + _STUB
    kept = [_WHOLE] if is_struck else []
    return drawing(
        *parts,
        width=widest,
        height=top - 1.5,
        unit="mm",
        label=f"The strip squared at true scale, {length:.2f} mm long, its middle marked; kept whole: "
        f"{', '.join([*(f'its struck face, {word}' for word in kept), *(zone.word for zone in zones)])}.",
        font_family=SANS,
    )


def _fits(row: Row, high: float) -> bool:
    """Whether the word for a struck face stands in it."""
    return high >= TEXT_MM * 1.15 and row.long >= text_width(_WHOLE, TEXT_MM) + 8


def _struck(row: Row, top: float, high: float) -> str:
    """The hatching of a struck face, a gap left in it for its word where there is room."""
    left, right = LEFT_MM + BLANK_LINE_MM, LEFT_MM + row.long - BLANK_LINE_MM
    spans, word = [(left, right)], ""
    if _fits(row, high):
        middle, half = (left + right) / 2, text_width(_WHOLE, TEXT_MM) / 2 + 1.2
        spans = [(left, middle - half), (middle + half, right)]
        word = text(_WHOLE, middle, top + high / 2 + TEXT_MM * 0.33, TEXT_MM, text_anchor="middle")
    return "".join(_hatched(start, end, top, top + high) for start, end in spans) + word


def _hatched(left: float, right: float, top: float, foot: float) -> str:
    if right - left < 0.3:
        return ""
    lines = hatching([(left, top), (right, top), (right, foot), (left, foot)], _HATCH)
    return element(
        "path", d=lines, fill="none", stroke=PAPER_PEN.ink, stroke_width=PAPER_PEN.hair, data_part="kept"
    )


def _kept_whole(
    row: Row, zones: Sequence[Zone], foot: float, room: float, *, is_struck: bool
) -> tuple[list[str], float]:
    """The bars under a row with their words, each on the first line that is free; and where they end."""
    parts: list[str] = []
    lines: list[list[tuple[float, float]]] = []
    head = foot + 0.5
    for zone in zones:
        start, end = max(zone.start_mm, row.start), min(zone.end_mm, row.end)
        if end - start < 0.3:
            continue
        left, right = LEFT_MM + start - row.start, LEFT_MM + end - row.start
        parts.append(_hatched(left, right, head, head + _BAR))
        parts.append(
            element(
                "path",
                d=f"M{left:.2f} {head:.2f}H{right:.2f}V{head + _BAR:.2f}H{left:.2f}Z",
                fill="none",
                stroke=PAPER_PEN.ink,
                stroke_width=PAPER_PEN.hair,
            )
        )
        long = text_width(zone.word, TEXT_MM)
        at = min(max((left + right - long) / 2, 0.2), room - long)
        # Two words side by side: the first ends with its bar, the second begins with its own.
        if len(zones) > 1:
            at = min(max(right - long if zone is zones[0] else left, 0.2), room - long)
        parts.append(_word(zone.word, at, long, head + _BAR, lines))
    if is_struck:
        long = text_width(_WHOLE, TEXT_MM)
        parts.append(_word(_WHOLE, 0.2, long, head + (_BAR if parts else _STUB), lines))
    if not parts:
        return parts, foot + _STUB
    return parts, head + _BAR + len(lines) * TEXT_MM * 1.2 + 0.6


def _word(words: str, at: float, long: float, head: float, lines: list[list[tuple[float, float]]]) -> str:
    """A word on the first line where nothing stands from `at` to its end."""
    free = (
        place
        for place, line in enumerate(lines)
        if all(at > end + 1 or at + long < start - 1 for start, end in line)
    )
    place = next(free, len(lines))
    if place == len(lines):
        lines.append([])
    lines[place].append((at, at + long))
    return text(words, at, head + (place + 1) * TEXT_MM * 1.15, TEXT_MM)
