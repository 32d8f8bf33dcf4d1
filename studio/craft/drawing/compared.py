"""Figures beside each other as bars: planned in outline, real in ink, a limit as a line across."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from studio.craft.drawing.lines import SCREEN_PEN
from studio.craft.drawing.svg import Svg, drawing, element, text

_ROW, _BAR, _LABEL, _FOOT, _SIDE = 56.0, 11.0, 18.0, 30.0, 14.0
_SIZE = 14.0
_LEAST_PARTS = 4
_POINT = 9.0
"""How far apart points stand that would fall together."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One row: its words, what was planned, what it really was, and the most there is; None is not drawn."""

    words: str
    planned: float | None
    real: float | None
    limit: float | None = None


def ticks_to(most: float) -> tuple[float, ...]:
    """Marks of an axis from 0 to at least `most`, on 1, 2 or 5 times a power of ten: 5 to 8 of them.

    `ticks_to(47)` gives 0, 10, 20, 30, 40, 50.
    """
    if most <= 0:
        return (0.0, 1.0)
    power = 10.0 ** floor(log10(most))
    step = next(
        one
        for one in (power * share for share in (2.0, 1.0, 0.5, 0.2, 0.1))
        if ceil(most / one - 1e-9) >= _LEAST_PARTS
    )
    return tuple(round(step * place, 10) for place in range(ceil(most / step - 1e-9) + 1))


def compared_bars(rows: Sequence[Compared], *, width: float, label: str, unit: str) -> Svg:
    """Each row's words with two bars under them, planned above real, along one axis from nought.

    Planned is an outline, real is filled, a limit a broken line across both: none hangs on colour. Every bar
    carries its value as `data-value`, so that the table beside it can be held against it. Raises ValueError
    without a row.
    """
    if not rows:
        raise ValueError("bars need a row")
    pen = SCREEN_PEN
    values = [value for row in rows for value in (row.planned, row.real, row.limit) if value is not None]
    marks = ticks_to(max(values, default=0.0))
    reach = width - 2 * _SIDE
    base = _ROW * len(rows) + 4

    def along(value: float) -> float:
        return _SIDE + reach * value / marks[-1]

    parts: list[str] = []
    for place, row in enumerate(rows):
        top = _ROW * place
        parts.append(text(row.words, _SIDE, top + 14, _SIZE, fill=pen.ink))
        for line, (kind, value, fill) in enumerate(
            (("planned", row.planned, "none"), ("real", row.real, pen.ink))
        ):
            if value is not None:
                parts.append(
                    element(
                        "rect", x=_SIDE, y=top + _LABEL + 2 + line * (_BAR + 3), width=along(value) - _SIDE,
                        height=_BAR, fill=fill, stroke=pen.ink, stroke_width=1, data_kind=kind,
                        data_value=f"{value:.6g}",
                    )
                )  # fmt: skip
        if row.limit is not None:
            parts.append(
                element(
                    "path", d=f"M{along(row.limit):.2f} {top + _LABEL - 1}v{2 * _BAR + 9}", fill="none",
                    stroke=pen.ink, stroke_width=2, stroke_dasharray="6 3", data_kind="limit",
                    data_value=f"{row.limit:.6g}",
                )
            )  # fmt: skip
    parts.append(element("path", d=f"M{_SIDE} {base}H{width - _SIDE}", stroke=pen.ink, stroke_width=1))
    for place, mark in enumerate(marks):
        parts.append(element("path", d=f"M{along(mark):.2f} {base}v5", stroke=pen.ink, stroke_width=1))
        last = place == len(marks) - 1
        said = f"{mark:g} {unit}" if last else f"{mark:g}"
        anchor = "end" if last else "middle"
        at = width - 2 if last else along(mark)
        parts.append(text(said, at, base + 20, _SIZE, text_anchor=anchor, fill=pen.ink))
    return drawing(*parts, width=width, height=base + _FOOT, label=label)


def points_within(
    values: Sequence[float], *, mean: float, low: float, high: float, width: float, label: str, unit: str
) -> Svg:
    """Each value a point along one axis, above it the interval as an outline with the mean as a line in it.

    Points carry their value as `data-value`; the axis begins at nought or below the lowest. Points that fall
    together stand above each other.
    """
    pen = SCREEN_PEN
    least, most = min(0.0, low, *values), max(high, *values, 0.0)
    step = ticks_to(max(most, -least))[1]
    start, end = floor(least / step + 1e-9), ceil(most / step - 1e-9)
    marks = [round(place * step, 10) for place in range(start, max(end, start + 1) + 1)]

    def along(value: float) -> float:
        return _SIDE + (width - 2 * _SIDE) * (value - marks[0]) / (marks[-1] - marks[0])

    heights: dict[int, int] = {}
    placed: list[tuple[float, int, float]] = []
    for value in values:
        slot = round(along(value) / _POINT)
        heights[slot] = heights.get(slot, -1) + 1
        placed.append((along(value), heights[slot], value))
    base = 40.0 + _POINT * (1 + max(heights.values(), default=0))
    parts = [
        element(
            "rect", x=along(low), y=6, width=along(high) - along(low), height=16, fill="none",
            stroke=pen.ink, stroke_width=1, data_kind="interval", data_value=f"{low:.6g} {high:.6g}",
        ),
        element(
            "path", d=f"M{along(mean):.2f} 2v24", fill="none", stroke=pen.ink, stroke_width=2,
            data_kind="mean", data_value=f"{mean:.6g}",
        ),
        *(
            element(
                "circle", cx=x, cy=base - 8 - _POINT * level, r=4, fill=pen.ink, stroke=pen.ground,
                stroke_width=1, data_kind="point", data_value=f"{value:.6g}",
            )
            for x, level, value in placed
        ),
        element("path", d=f"M{_SIDE} {base}H{width - _SIDE}", fill="none", stroke=pen.ink, stroke_width=1),
    ]  # fmt: skip
    for place, mark in enumerate(marks):
        last = place == len(marks) - 1
        parts.append(element("path", d=f"M{along(mark):.2f} {base}v5", fill="none", stroke=pen.ink))
        said, at = (f"{mark:g} {unit}", width - 2) if last else (f"{mark:g}", along(mark))
        anchor = "end" if last else "middle"
        parts.append(text(said, at, base + 20, _SIZE, text_anchor=anchor, fill=pen.ink))
    return drawing(*parts, width=width, height=base + _FOOT, label=label)
