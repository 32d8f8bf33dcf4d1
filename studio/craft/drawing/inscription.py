"""The strip an inscription goes on, for paper, at true size: one row of it, its words left to the printer."""

from studio.craft.drawing.lines import PAPER_PEN, broken_line
from studio.craft.drawing.svg import Svg, drawing, element
from studio.craft.inscription_strip import StripRow

STRIP_LINE_MM = 0.25
CUT_MM = 2.0
"""How far a cut mark reaches over the strip on both sides."""
SIDE_MM = 1.5
"""What is kept free at both ends of a row, where its cut marks stand."""
_LEAST_MM = 0.01


def strip_height_mm(width_mm: float) -> float:
    """How high the drawing of a row is for a ring so wide: the strip and a cut mark's reach on both sides."""
    return width_mm + 2 * CUT_MM


def inscription_row(row: StripRow, width_mm: float, has_mm: float, label: str, *, from_right: bool) -> Svg:
    """One row of the strip, as wide as the ring, from its beginning to its end at true size.

    A broken line stands across it where the words' room ends, `has_mm` on the way. The outline lies on the
    metal's side: its outer edges are the strip's. Where the strip goes on in another row stands a zigzag
    across its end; what runs over the ring has a broken outline.
    """
    long_mm = row.to_mm - row.from_mm
    half = STRIP_LINE_MM / 2

    def x(place_mm: float) -> float:
        return SIDE_MM + (long_mm - place_mm if from_right else place_mm)

    parts = []
    if row.ring_mm > _LEAST_MM:
        parts.append(
            element(
                "rect",
                x=min(x(0), x(row.ring_mm)) + half,
                y=CUT_MM + half,
                width=row.ring_mm - STRIP_LINE_MM,
                height=width_mm - STRIP_LINE_MM,
                fill="none",
                stroke=PAPER_PEN.ink,
                stroke_width=STRIP_LINE_MM,
                data_part="strip",
            )
        )
    if long_mm - row.ring_mm > _LEAST_MM:
        start, end = x(row.ring_mm), x(long_mm)
        top, foot = CUT_MM + half, CUT_MM + width_mm - half
        parts.append(
            broken_line(PAPER_PEN, f"M{start:.2f} {top:.2f}H{end:.2f}M{start:.2f} {foot:.2f}H{end:.2f}")
        )
    if row.from_mm < has_mm < row.ring_to_mm - _LEAST_MM:
        across = x(has_mm - row.from_mm)
        parts.append(broken_line(PAPER_PEN, f"M{across:.2f} {CUT_MM:.2f}V{CUT_MM + width_mm:.2f}"))
    outward = 1 if from_right else -1
    parts += [_cut(x(0.0), outward, width_mm)] if row.is_cut_before else []
    parts += [_cut(x(long_mm), -outward, width_mm)] if row.is_cut_after else []
    return drawing(
        *parts, width=long_mm + 2 * SIDE_MM, height=strip_height_mm(width_mm), unit="mm", label=label
    )


def _cut(x: float, outward: int, width_mm: float) -> str:
    """A zigzag across the strip's end, which it touches from outside: -1 is to the left, 1 to the right."""
    high, steps = strip_height_mm(width_mm), 4
    turns = "".join(
        f"L{x + outward * (1.2 if step % 2 else 0.2):.2f} {high * step / steps:.2f}"
        for step in range(1, steps)
    )
    start = x + outward * 0.2
    return element(
        "path",
        d=f"M{start:.2f} 0{turns}L{start:.2f} {high:.2f}",
        fill="none",
        stroke=PAPER_PEN.ink,
        stroke_width=0.35,
    )
