"""The straight lines that a page draws, read from the PDF itself: where each lies, in mm from the top."""

import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

POINT_MM = 25.4 / 72
Matrix = tuple[float, float, float, float, float, float]
WHOLE: Matrix = (1, 0, 0, 1, 0, 0)


@dataclass(frozen=True, slots=True)
class Stroke:
    """One straight piece of a path, in mm; `page` counts from 0."""

    page: int
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def is_across(self) -> bool:
        return abs(self.y0 - self.y1) < 0.001

    @property
    def is_down(self) -> bool:
        return abs(self.x0 - self.x1) < 0.001

    @property
    def long(self) -> float:
        return max(abs(self.x1 - self.x0), abs(self.y1 - self.y0))


def strokes(pdf: bytes) -> list[Stroke]:
    """Every straight piece on every page, in the order they are drawn."""
    reader: Any = PdfReader(io.BytesIO(pdf))
    found: list[Stroke] = []
    for number, page in enumerate(reader.pages):
        high = float(page.mediabox.height)
        content = ContentStream(page.get_contents(), reader)
        for a, b in _pieces(content, page["/Resources"].get_object(), reader, WHOLE):
            (x0, y0), (x1, y1) = a, b
            x0, x1 = x0 * POINT_MM, x1 * POINT_MM
            found.append(Stroke(number, x0, (high - y0) * POINT_MM, x1, (high - y1) * POINT_MM))
    return found


def _times(m: Matrix, n: Matrix) -> Matrix:
    a, b, c, d, e, f = m
    p, q, r, s, t, u = n
    return (
        a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


Place = tuple[float, float]


class _Pencil:
    """Follows what a page draws: where the pencil is, and how the page is turned and scaled by now."""

    def __init__(self, reader: Any, now: Matrix) -> None:
        self.reader, self.now = reader, now
        self.kept: list[Matrix] = []
        self.at: Place = (0.0, 0.0)
        self.begun: Place = self.at

    def put(self, x: Any, y: Any) -> Place:
        a, b, c, d, e, f = self.now
        return (a * float(x) + c * float(y) + e, b * float(x) + d * float(y) + f)

    def turn(self, operands: Any, operator: bytes) -> None:
        """What moves the page under the pencil."""
        if operator == b"q":
            self.kept.append(self.now)
        elif operator == b"Q":
            self.now = self.kept.pop()
        elif operator == b"cm":
            a, b, c, d, e, f = (float(one) for one in operands)
            self.now = _times((a, b, c, d, e, f), self.now)

    def draw(self, operands: Any, operator: bytes) -> Iterator[tuple[Place, Place]]:
        """What draws; a curve only moves the pencil."""
        if operator == b"re":
            x, y, wide, high = (float(one) for one in operands)
            ends = [self.put(*end) for end in ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))]
            yield from zip(ends, [*ends[1:], ends[0]], strict=True)
            return
        before = self.at
        self.at = self.begun if operator == b"h" else self.put(*operands[-2:])
        if operator == b"m":
            self.begun = self.at
        elif operator in {b"l", b"h"}:
            yield before, self.at


def _pieces(content: Any, resources: Any, reader: Any, start: Matrix) -> Iterator[tuple[Place, Place]]:
    pencil = _Pencil(reader, start)
    for operands, operator in content.operations:
        pencil.turn(operands, operator)
        if operator in {b"m", b"l", b"c", b"h", b"re"}:
            yield from pencil.draw(operands, operator)
        elif operator == b"Do":
            form = resources["/XObject"][operands[0]].get_object()
            if form["/Subtype"] == "/Form":
                a, b, c, d, e, f = (float(one) for one in form.get("/Matrix", WHOLE))
                inner = form.get("/Resources", resources).get_object()
                matrix = _times((a, b, c, d, e, f), pencil.now)
                yield from _pieces(ContentStream(form, reader), inner, reader, matrix)
