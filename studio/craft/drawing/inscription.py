"""The strip an inscription goes on, for paper, at true size: one row of it, its words left to the printer."""

from studio.craft.drawing.lines import PAPER_PEN, broken_line
from studio.craft.drawing.svg import Svg, drawing, element
from studio.craft.inscription_strip import StripRow

STRIP_LINE_MM = 0.25
CUT_MM = 2.0
"""How far a cut mark reaches over the strip on both sides."""
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
        return long_mm - place_mm if from_right else place_mm

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
    cuts = [place for place, is_cut in ((0.0, row.is_cut_before), (long_mm, row.is_cut_after)) if is_cut]
    parts += [_cut(x(place), width_mm) for place in cuts]
    return drawing(*parts, width=long_mm, height=strip_height_mm(width_mm), unit="mm", label=label)


def _cut(x: float, width_mm: float) -> str:
    """A zigzag across the strip, its middle on the cut; half of it lies beyond the drawing, unseen."""
    high = strip_height_mm(width_mm)
    steps = 4
    turns = "".join(
        f"L{x + (0.7 if step % 2 else -0.7):.2f} {high * step / steps:.2f}" for step in range(1, steps)
    )
    return element(
        "path",
        d=f"M{x:.2f} 0{turns}L{x:.2f} {high:.2f}",
        fill="none",
        stroke=PAPER_PEN.ink,
        stroke_width=0.35,
    )
