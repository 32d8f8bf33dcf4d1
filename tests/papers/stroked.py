"""The lines of a printed paper as they are drawn, to the micrometre: out of the PDF, not out of points."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tests.papers.printed import reader

MM_IN_A_POINT = 25.4 / 72
Line = tuple[float, float, float, float]
"""From where to where: x and y of both ends."""


@dataclass(frozen=True, slots=True)
class Stroked:
    """What is drawn with one stroke of the pen. In mm from the upper left corner of the page.

    `boxes` are left, top, right and bottom of the middle of a rectangle's outline.
    """

    page: int
    pen_mm: float
    boxes: tuple[Line, ...]
    lines: tuple[Line, ...]


def strokes(pdf: bytes) -> list[Stroked]:
    """Every stroke of the paper, in the order they are drawn."""
    found: list[Stroked] = []
    for number, page in enumerate(reader(pdf).pages, 1):
        high = float(page.mediabox.height)
        pen, boxes, lines = 1.0, list[Line](), list[Line]()
        at: tuple[float, float] = (0.0, 0.0)

        def visit(operator: bytes, given: Any, cm: Any, _tm: Any) -> None:
            nonlocal pen, at, boxes, lines
            values = [float(one) for one in given] if operator in {b"re", b"m", b"l", b"w"} else []
            if operator == b"w":
                pen = values[0]
            elif operator == b"re":
                x, y, wide, tall = values
                boxes.append((*_placed(cm, x, y, high), *_placed(cm, x + wide, y + tall, high)))  # noqa: B023  used at once
            elif operator == b"m":
                at = (values[0], values[1])
            elif operator == b"l":
                lines.append((*_placed(cm, *at, high), *_placed(cm, values[0], values[1], high)))  # noqa: B023  used at once
                at = (values[0], values[1])
            elif operator == b"S":
                scale = abs(float(cm[0])) * MM_IN_A_POINT
                found.append(Stroked(number, pen * scale, tuple(boxes), tuple(lines)))  # noqa: B023  used at once
            if operator in {b"S", b"f", b"f*", b"n", b"B", b"W", b"W*"}:
                boxes, lines = [], []

        page.extract_text(visitor_operand_before=visit)
    return found


def _placed(cm: Any, x: float, y: float, high: float) -> tuple[float, float]:
    """A point of a drawing as it lies on the page, in mm from its upper left corner."""
    matrix: NDArray[np.float64] = np.array(cm, float).reshape(3, 2)
    across, up = np.array([x, y, 1.0]) @ matrix
    return float(across) * MM_IN_A_POINT, (high - float(up)) * MM_IN_A_POINT
