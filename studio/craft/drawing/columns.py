"""Figures over time as columns: planned in outline, real in ink, what is usual as a line across."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from studio.craft.drawing.compared import Compared, ticks_to
from studio.craft.drawing.lines import SCREEN_PEN
from studio.craft.drawing.svg import Svg, drawing, element, text
from studio.craft.drawing.type_widths import text_width

_SIZE, _TOP, _FOOT, _GAP = 14.0, 26.0, 26.0, 6.0
_LINE = 17.0
"""The least px between words above each other."""
_PAIR, _SPARE = 0.84, 2.0
"""How much of its room a pair of columns takes, and the px between the two."""


@dataclass(frozen=True, slots=True)
class Columns:
    """What stands along the time, the earliest first. `is_paired` draws planned beside real.

    `now` is the place of the one that runs, named by `now_words` under it; `limit` a line across all, named
    by nothing but the words beside the picture.
    """

    rows: Sequence[Compared]
    unit: str
    is_paired: bool = False
    now: int | None = None
    now_words: str = ""
    limit: float | None = None


def columns_over_time(told: Columns, *, width: float, height: float, label: str) -> Svg:
    """The columns of `told` on one axis from nought, `height` px from the highest mark to the ground.

    Planned is an outline, real is filled, and the one of now has its word: none hangs on colour. Each column
    carries its value as `data-value`, so that the table beside it can be held against it. Words that have no
    room stand under every second or third column. Raises ValueError without a row.
    """
    if not told.rows:
        raise ValueError("columns need a row")
    pen = SCREEN_PEN
    values = [one for row in told.rows for one in (row.planned, row.real) if one is not None]
    marks = ticks_to(max([*values, told.limit or 0.0], default=0.0))
    words = [f"{mark:g}" for mark in marks]
    left = max(text_width(one, _SIZE) for one in words) + _GAP + 4
    reach = (width - left - 2) / len(told.rows)
    base = _TOP + height

    def up(value: float) -> float:
        return base - height * value / marks[-1]

    parts = [text(told.unit, 0, 14, _SIZE, fill=pen.ink)]
    every = max(1, ceil(_LINE * (len(marks) - 1) / height))
    for place, (mark, said) in enumerate(zip(marks, words, strict=True)):
        if place % every == 0:
            parts.append(text(said, left - _GAP, up(mark) + 5, _SIZE, text_anchor="end", fill=pen.ink))
        parts.append(
            element("path", d=f"M{left:.2f} {up(mark):.2f}H{width}", stroke=pen.ink, stroke_width=0.25)
        )
    kinds = ("planned", "real") if told.is_paired else ("real",)
    wide = (reach * _PAIR - _SPARE * (len(kinds) - 1)) / len(kinds)
    for place, row in enumerate(told.rows):
        start = left + reach * (place + (1 - _PAIR) / 2)
        for line, kind in enumerate(kinds):
            value = row.real if kind == "real" else row.planned
            if value is not None:
                parts.append(
                    element(
                        "rect", x=start + line * (wide + _SPARE), y=up(value), width=wide,
                        height=base - up(value), fill=pen.ink if kind == "real" else "none",
                        stroke=pen.ink, stroke_width=1, data_kind=kind, data_value=f"{value:.6g}",
                    )
                )  # fmt: skip
    if told.limit is not None:
        parts.append(
            element(
                "path", d=f"M{left:.2f} {up(told.limit):.2f}H{width}", fill="none", stroke=pen.ink,
                stroke_width=2, stroke_dasharray="6 3", data_kind="limit", data_value=f"{told.limit:.6g}",
            )
        )  # fmt: skip
    parts.append(element("path", d=f"M{left:.2f} {base}H{width}", stroke=pen.ink, stroke_width=2))
    parts += _words_below(told, left, reach, base, width)
    return drawing(*parts, width=width, height=base + _FOOT + (18 if told.now_words else 0), label=label)


def _words_below(told: Columns, left: float, reach: float, base: float, width: float) -> list[str]:
    """The words of the columns, so many left out that none touches another; that of now in a line below."""
    pen = SCREEN_PEN
    widest = max(text_width(row.words, _SIZE) for row in told.rows)
    every = max(1, ceil((widest + _GAP) / reach))
    kept = 0 if told.now is None else told.now % every
    parts = []
    for place, row in enumerate(told.rows):
        half = text_width(row.words, _SIZE) / 2
        middle = left + reach * (place + 0.5)
        if place % every == kept and half <= middle <= width - half:
            parts.append(text(row.words, middle, base + 20, _SIZE, text_anchor="middle", fill=pen.ink))
    if told.now is not None and told.now_words:
        half = text_width(told.now_words, _SIZE) / 2
        middle = min(max(left + reach * (told.now + 0.5), half), width - half)
        parts.append(text(told.now_words, middle, base + 38, _SIZE, text_anchor="middle", fill=pen.ink))
    return parts
