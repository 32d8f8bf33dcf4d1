"""The lines of a drawing after ISO 128 and ISO 129: chain, broken, hatching, dimensions with arrows."""

from dataclasses import dataclass
from math import inf

from studio.craft.drawing.svg import element, number, points, text
from studio.craft.drawing.type_widths import text_width

INK = "#22201D"
SECOND_INK = "#4F4A43"
METAL = "#F0EADF"
PAPER = "#FAF7F1"
PENCIL = "#982614"
BLACK = "#000000"
WHITE = "#FFFFFF"

SANS = "'Source Sans Pro', sans-serif"
SERIF = "'Source Serif Pro', serif"

Point = tuple[float, float]
Span = tuple[float, float]
"""Where something begins and ends along one axis."""


@dataclass(frozen=True, slots=True)
class Pen:
    """What lines are drawn with: colours, and weights in the drawing's unit (px on screen, mm on paper).

    `dash` is the unit of chain and broken lines, a pixel or its like; arrows, gaps and overshoots hang on it.
    """

    ink: str
    note: str
    metal: str
    ground: str
    fine: str
    outline: float
    thin: float
    hair: float
    hatch: float
    dash: float


SCREEN_PEN = Pen(INK, SECOND_INK, METAL, PAPER, SECOND_INK, 2, 1, 0.8, 6, 1)
PAPER_PEN = Pen(BLACK, BLACK, WHITE, WHITE, BLACK, 0.5, 0.25, 0.18, 1.1, 0.25)


def dashes(pen: Pen, *lengths: float) -> str:
    """A dash pattern in the pen's own unit."""
    return " ".join(number(length * pen.dash) for length in lengths)


def chain_line(pen: Pen, data: str) -> str:
    """Centre or neutral line: long dash, gap, dot, gap."""
    return element(
        "path",
        d=data,
        fill="none",
        stroke=pen.ink,
        stroke_width=pen.thin,
        stroke_dasharray=dashes(pen, 14, 3, 2, 3),
    )


def chain_line_over(pen: Pen, data: str, halo: str) -> str:
    """A chain line that crosses hatching or facets, with a narrow gap left in them along its way."""
    gap = element(
        "path",
        d=halo,
        fill="none",
        stroke=pen.ground if pen.metal == "none" else pen.metal,
        stroke_width=5 * pen.dash,
    )
    return gap + chain_line(pen, data)


def fine_lines(pen: Pen, data: str) -> str:
    """Hatching or facets, all in one path."""
    return element("path", d=data, fill="none", stroke=pen.fine, stroke_width=pen.hair)


def broken_line(pen: Pen, data: str) -> str:
    """Saw or file to here."""
    return element(
        "path", d=data, fill="none", stroke=pen.ink, stroke_width=pen.thin, stroke_dasharray=dashes(pen, 6, 3)
    )


def hatching(outline: list[Point], spacing: float) -> str:
    """Path data of 45 degree hatching within `outline`, lines `spacing` apart, rising to the right.

    The outline must be met at most twice by a line across it, as every ring section is.
    """
    # Along u = x + y a hatch line is a constant; the outline falls into two chains from its least to its
    # greatest u, each walked once, so the cost is lines plus corners, not lines times corners.
    along = [x + y for x, y in outline]
    count = len(outline)
    low, high = along.index(min(along)), along.index(max(along))
    chains = []
    for step in (1, -1):
        path = [low]
        while path[-1] != high:
            path.append((path[-1] + step) % count)
        chains.append([(along[i], outline[i]) for i in path])
    pitch = spacing * 2**0.5
    at = along[low] + pitch * 0.6
    numbers: list[float] = []
    places = [0, 0]
    while at < along[high]:
        for side, corners in enumerate(chains):
            i = places[side]
            while corners[i + 1][0] < at:
                i += 1
            places[side] = i
            (u0, (x0, y0)), (u1, (x1, y1)) = corners[i], corners[i + 1]
            share = (at - u0) / (u1 - u0) if u1 != u0 else 0.0
            numbers += (x0 + (x1 - x0) * share, y0 + (y1 - y0) * share)
        at += pitch
    return "M%.2f %.2fL%.2f %.2f" * (len(numbers) // 4) % tuple(numbers)


def hatched(pen: Pen, outline: list[Point], **attributes: str) -> tuple[str, str]:
    """Cut metal in two layers, so that a line may pass between: the hatched fill, and the heavy outline."""
    corners = points(outline)
    return (
        element("path", d=corners, fill=pen.metal) + fine_lines(pen, hatching(outline, pen.hatch)),
        element(
            "path",
            d=corners,
            fill="none",
            stroke=pen.ink,
            stroke_width=pen.outline,
            stroke_linejoin="round",
            **attributes,
        ),
    )


def _arrow(tip: float, across: float, direction: int, pen: Pen, *, is_upright: bool) -> str:
    """A filled narrow arrow, 9 by 3, whose point lies on `tip` and looks along `direction`."""
    back, half = tip - direction * 9 * pen.dash, 1.5 * pen.dash
    corners = [(tip, across), (back, across - half), (back, across + half)]
    return points([(b, a) for a, b in corners] if is_upright else corners)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a view stands: its middle (a blank's upper left corner), and units of the drawing per mm."""

    x: float
    y: float
    scale: float


@dataclass(frozen=True, slots=True)
class Figure:
    """What stands at a dimension line."""

    words: str
    size: float
    weight: int = 400


def _dimension(
    pen: Pen, span: Span, figure: Figure, *, line: float, edge: float, is_upright: bool, least: float = -inf
) -> str:
    """A dimension over `span`; see the two public ways to call it."""
    start, end = span
    unit = pen.dash
    towards = 1 if line > edge else -1
    width = text_width(figure.words, figure.size, figure.weight)
    is_wide = end - start >= max(width + unit, 21 * unit)
    reach = 0.0 if is_wide else 16 * unit
    first, last = edge + towards * 3 * unit, line + towards * 5 * unit
    stays = [(start, first, start, last), (end, first, end, last), (start - reach, line, end + reach, line)]
    if is_upright:
        stays = [(y, x, v, u) for x, y, u, v in stays]
    data = "".join(f"M{x:.2f} {y:.2f}L{u:.2f} {v:.2f}" for x, y, u, v in stays)
    inward = -1 if is_wide else 1
    heads = _arrow(start, line, inward, pen, is_upright=is_upright) + _arrow(
        end, line, -inward, pen, is_upright=is_upright
    )
    # Too little room: the arrows press from outside and the figure stands past the second one; on an upright
    # dimension that is above the upper one, so that it is still read from the right.
    middle = (start + end) / 2
    if not is_wide:
        middle = start - reach - width / 2 - 2 * unit if is_upright else end + reach + width / 2 + 2 * unit
    middle = max(middle, least + width / 2)
    lift = line - 4 * unit
    turned = f"rotate(-90 {number(lift)} {number(middle)})" if is_upright else None
    x, y = (lift, middle) if is_upright else (middle, lift)
    lines = element("path", d=data, stroke=pen.ink, stroke_width=pen.thin) + element(
        "path", d=heads, fill=pen.ink
    )
    if not figure.words:
        return lines
    return lines + text(
        figure.words,
        x,
        y,
        figure.size,
        text_anchor="middle",
        font_weight=str(figure.weight) if figure.weight != 400 else None,
        fill=pen.ink,
        transform=turned,
    )


def across(pen: Pen, span: Span, figure: Figure, *, line: float, edge: float, least: float = -inf) -> str:
    """A dimension lying across the x of `span`: its line at y `line`, extension lines from y `edge`.

    The figure stands above the line, never beginning left of x `least`; where there is no room between the
    arrows they press from outside and the figure stands to the right.
    """
    return _dimension(pen, span, figure, line=line, edge=edge, is_upright=False, least=least)


def upright(pen: Pen, span: Span, figure: Figure, *, line: float, edge: float) -> str:
    """A dimension standing along the y of `span`: its line at x `line`, extension lines from x `edge`.

    The figure is read from the right; where there is no room between the arrows it stands above them.
    """
    return _dimension(pen, span, figure, line=line, edge=edge, is_upright=True)


def arrows_between(pen: Pen, span: Span, line: float) -> str:
    """A dimension line without extension lines, between two outlines that are there already."""
    start, end = span
    return element(
        "path", d=f"M{start:.2f} {line:.2f}H{end:.2f}", stroke=pen.ink, stroke_width=pen.thin
    ) + element(
        "path",
        d=_arrow(start, line, -1, pen, is_upright=False) + _arrow(end, line, 1, pen, is_upright=False),
        fill=pen.ink,
    )
