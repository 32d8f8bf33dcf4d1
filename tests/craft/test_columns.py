"""Columns over time: as high as their figures, the one of now named, every word inside the picture."""

from itertools import pairwise

import pytest

from studio.craft.drawing import Columns, Compared, columns_over_time
from studio.craft.drawing.type_widths import text_width
from tests.craft.drawn import SVG, read

ROWS = [Compared(str(40 + place), 3.0 * place, None if place > 8 else 2.5 * place) for place in range(15)]
TOLD = Columns(ROWS, "hours", is_paired=True, now=8, now_words="this week", limit=17.0)


@pytest.mark.parametrize("width", [288, 620])
def test_columns_are_as_high_as_their_figures(width: float) -> None:
    root = read(columns_over_time(TOLD, width=width, height=200, label="Hours"))
    drawn = [one.attrib for one in root.iter(f"{SVG}rect")]
    shown = [(one["data-kind"], float(one["data-value"])) for one in drawn]
    assert [value for kind, value in shown if kind == "planned"] == [row.planned for row in ROWS]
    assert [value for kind, value in shown if kind == "real"] == [
        row.real for row in ROWS if row.real is not None
    ]
    for one in drawn:
        assert float(one["height"]) == pytest.approx(200 * float(one["data-value"]) / 50, abs=0.01)
        assert float(one["y"]) + float(one["height"]) == pytest.approx(226, abs=0.02)
    (limit,) = [one for one in root.iter(f"{SVG}path") if one.get("data-kind") == "limit"]
    assert limit.attrib["data-value"] == "17"


@pytest.mark.parametrize("width", [288, 620])
@pytest.mark.parametrize("now", [0, 8, 14])
def test_no_word_leaves_the_picture_or_lies_on_another_and_now_has_its_word(width: float, now: int) -> None:
    told = Columns(ROWS, "hours", now=now, now_words="this week")
    root = read(columns_over_time(told, width=width, height=200, label="Hours"))
    lines: dict[str, list[tuple[float, float]]] = {}
    words = []
    for one in root.iter(f"{SVG}text"):
        said = one.text or ""
        wide = text_width(said, 14)
        shift = {"start": 0.0, "middle": 0.5, "end": 1.0}[one.get("text-anchor", "start")]
        left = float(one.attrib["x"]) - shift * wide
        assert left >= -0.01, said
        assert left + wide <= width + 0.01, said
        lines.setdefault(one.attrib["y"], []).append((left, left + wide))
        words.append(said)
    assert {"this week", ROWS[now].words} <= set(words)
    for line in lines.values():
        line.sort()
        assert all(one[1] + 2 <= other[0] for one, other in pairwise(line)), line


def test_columns_want_a_row() -> None:
    with pytest.raises(ValueError, match="need a row"):
        columns_over_time(Columns([], "g"), width=288, height=100, label="None")
