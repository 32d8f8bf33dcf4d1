"""A piece of stock with what is cut from it, all pieces of a plan to one scale: strips, blanks, offcuts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from studio.craft.cutting import Offcut, Opened, Strip
from studio.craft.drawing.lines import PAPER_PEN, SCREEN_PEN, Figure, Pen, across
from studio.craft.drawing.svg import Svg, drawing, element, text
from studio.craft.drawing.type_widths import first_that_fits
from studio.craft.units import figure_words

Names = Mapping[str, tuple[str, ...]]
_UM = 1000.0
_LEAST_WIRE = 22.0
"""A wire is drawn this wide at the least, in px, to tell its blanks apart; its length is to scale."""


@dataclass(frozen=True, slots=True)
class CutFrame:
    """How wide the drawing is, what its words stand in, and whether the cuts are named beside it."""

    width: float
    size: float
    head: float
    beside: float
    least: float
    largest: float
    unit: str = ""


WIDE_CUTS = CutFrame(width=1190, size=14, head=34, beside=128, least=_LEAST_WIRE, largest=6)
NARROW_CUTS = CutFrame(width=340, size=13, head=32, beside=0, least=_LEAST_WIRE, largest=6)
PAPER_CUTS = CutFrame(width=182, size=3.9, head=9, beside=30, least=5.5, largest=1, unit="mm")


def cut_scale(frame: CutFrame, opened: Sequence[Opened]) -> float:
    """The one scale of these pieces, in the frame's unit a mm: the longest takes the width there is."""
    longest = max((piece.length_um for piece in opened), default=1) / _UM
    return min((frame.width - frame.beside - 2) / longest, frame.largest)


def cut_drawing(opened: Opened, names: Names, frame: CutFrame, scale: float, label: str) -> Svg:
    """One piece as it is cut. `names` has what may be written on a blank, the longest first.

    Solid lines are saw cuts. The strips lie in the order of ripping, from above; a kerf is too thin to draw.
    """
    pen = PAPER_PEN if frame.unit else SCREEN_PEN
    piece = _Piece(pen, frame, opened, names, scale)
    body = piece.body()
    return drawing(
        *body, width=frame.width, height=piece.height + pen.outline, label=label, unit=frame.unit,
        font_family="'Source Sans Pro', 'Noto Sans', sans-serif",
    )  # fmt: skip


class _Piece:
    """One piece while it is drawn: where its edges lie."""

    def __init__(self, pen: Pen, frame: CutFrame, opened: Opened, names: Names, scale: float) -> None:
        self._pen, self._frame, self._opened, self._names = pen, frame, opened, names
        self._scale = scale
        self._left, self._top = pen.outline, frame.head
        wide_mm = opened.width_um / _UM
        self._across = scale if wide_mm * scale >= frame.least else frame.least / wide_mm
        self.height = self._top + wide_mm * self._across + pen.outline

    def body(self) -> list[str]:
        """Everything of the drawing."""
        pen, opened, frame = self._pen, self._opened, self._frame
        whole = self._rect(0, 0, opened.length_um, opened.width_um)
        length = Figure(figure_words(opened.length_um / _UM), frame.size)
        span, line = (whole.x, whole.x + whole.long), self._top - frame.head * 0.32
        found = [
            self._box(whole, pen.ground, pen.outline),
            across(pen, span, length, line=line, edge=whole.y),
        ]
        rests = list(opened.offcuts)
        below, named_at = 0, -frame.size
        for number, strip in enumerate(opened.strips, 1):
            found += self._strip(below, strip, rests)
            below += strip.width_um
            at = self._rect(0, below, 0, 0).y
            if frame.beside and below < opened.width_um and at - named_at >= frame.size:
                found += self._named(number, below, strip.width_um)
                named_at = at
        if rests:
            under = self._rect(0, below, opened.length_um, opened.width_um - below)
            found += self._words(under, _offcut_words(rests[0]))
        return found

    def _strip(self, above: int, strip: Strip, rests: list[Offcut]) -> list[str]:
        """A strip with its blanks and what is left of it, which is then taken from `rests`."""
        found, along = [], 0
        for cut in strip.cuts:
            lying = self._rect(along, above, cut.length_um, strip.width_um)
            found.append(self._box(lying, self._pen.metal, self._pen.thin))
            found += self._words(lying, self._names.get(cut.blank, (cut.blank,)))
            along += cut.length_um
        left = self._opened.length_um - along
        if left > 0:
            rest = self._rect(along, above, left, strip.width_um)
            found.append(self._box(rest, self._pen.ground, self._pen.thin))
            if rests and rests[0].width_um == strip.width_um and rests[0].length_um <= left:
                found += self._words(rest, _offcut_words(rests.pop(0)))
        return found

    def _named(self, number: int, below: int, width_um: int) -> list[str]:
        """The cut below a strip, named beside it."""
        size, pen = self._frame.size, self._pen
        edge = self._rect(self._opened.length_um, below, 0, 0)
        line = f"M{edge.x + size * 0.25:.2f} {edge.y:.2f}h{size * 0.85:.2f}"
        words = f"cut {number}, {figure_words(width_um / _UM)} wide"
        return [
            element("path", d=line, stroke=pen.note, stroke_width=pen.thin),
            text(words, edge.x + size * 1.35, edge.y + size * 0.33, size, fill=pen.note),
        ]

    def _words(self, on: "_Rect", candidates: tuple[str, ...]) -> list[str]:
        size = self._frame.size
        words = first_that_fits(candidates, on.long - size * 0.5, size) if on.high >= size else ""
        if not words:
            return []
        x, y = on.x + on.long / 2, on.y + on.high / 2 + size * 0.34
        return [text(words, x, y, size, text_anchor="middle", fill=self._pen.ink)]

    def _box(self, on: "_Rect", fill: str, weight: float) -> str:
        ink = self._pen.ink
        return element(
            "rect", x=on.x, y=on.y, width=on.long, height=on.high, fill=fill, stroke=ink, stroke_width=weight
        )

    def _rect(self, along: int, above: int, long: int, high: int) -> "_Rect":
        """A rectangle of the piece, in µm from its corner, in the drawing's unit."""
        x, y = self._left + along / _UM * self._scale, self._top + above / _UM * self._across
        return _Rect(x, y, long / _UM * self._scale, high / _UM * self._across)


@dataclass(frozen=True, slots=True)
class _Rect:
    x: float
    y: float
    long: float
    high: float


def _offcut_words(rest: Offcut) -> tuple[str, ...]:
    size = f"{figure_words(rest.length_um / _UM, 1)} × {figure_words(rest.width_um / _UM, 1)}"
    return f"offcut {size}", size
