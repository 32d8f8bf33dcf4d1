"""Bars beside each other: as long as their figures, on a marked axis, every word inside the picture."""

import re
from itertools import pairwise

import pytest

from studio.craft.drawing import Compared, compared_bars, points_within, ticks_to
from studio.craft.drawing.type_widths import text_width

ROWS = (
    Compared("Work the pattern, hammered", 40, 65.5, 80),
    Compared("Solder the seam", 20, None),
    Compared("Weigh out", None, 4),
)


def bars(markup: str) -> list[tuple[str, float, float]]:
    """Kind, value and width of every bar."""
    found = []
    for given in re.findall(r"<rect ([^>]*)/>", markup):
        at = dict(re.findall(r'([\w-]+)="([^"]*)"', given))
        found.append((at["data-kind"], float(at["data-value"]), float(at["width"])))
    return found


@pytest.mark.parametrize("width", [288, 620])
def test_a_bar_is_as_long_as_its_figure_and_a_figure_that_is_not_known_has_none(width: float) -> None:
    svg = compared_bars(ROWS, width=width, label="Minutes", unit="min")
    drawn = bars(svg.markup)
    assert [(kind, value) for kind, value, _ in drawn] == [
        ("planned", 40), ("real", 65.5), ("planned", 20), ("real", 4),
    ]  # fmt: skip
    whole = (width - 28) / 80
    assert [wide for *_, wide in drawn] == pytest.approx([value * whole for _, value, _ in drawn], abs=0.02)
    assert 'role="img" aria-label="Minutes"' in svg.markup
    assert 'data-kind="limit" data-value="80"' in svg.markup


@pytest.mark.parametrize("width", [288, 620])
def test_no_word_leaves_the_picture_or_lies_on_another(width: float) -> None:
    svg = compared_bars(ROWS, width=width, label="Minutes", unit="min")
    lines: dict[str, list[tuple[float, float]]] = {}
    for given, words in re.findall(r"<text ([^>]*)>([^<]*)</text>", svg.markup):
        at = dict(re.findall(r'([\w-]+)="([^"]*)"', given))
        wide = text_width(words, 14)
        anchor = {"start": 0.0, "middle": 0.5, "end": 1.0}[at.get("text-anchor", "start")]
        left = float(at["x"]) - anchor * wide
        assert left >= 0, words
        assert left + wide <= width, words
        lines.setdefault(at["y"], []).append((left, left + wide))
    for line in lines.values():
        line.sort()
        assert all(one[1] + 4 <= other[0] for one, other in pairwise(line)), line


@pytest.mark.parametrize(
    ("most", "marks"),
    [(47, (0, 10, 20, 30, 40, 50)), (80, (0, 20, 40, 60, 80)), (100, (0, 20, 40, 60, 80, 100)),
     (1.2, (0, 0.2, 0.4, 0.6, 0.8, 1, 1.2)),
     (0, (0, 1))],
)  # fmt: skip
def test_marks_are_round_and_reach_the_longest(most: float, marks: tuple[float, ...]) -> None:
    assert ticks_to(most) == pytest.approx(marks)


def test_bars_need_a_row() -> None:
    with pytest.raises(ValueError, match="need a row"):
        compared_bars((), width=288, label="", unit="min")


@pytest.mark.parametrize("values", [(1.9, 1.9, 2.4), (-0.6, 0.1, 3.2), (0.0,)])
def test_every_record_is_a_point_at_its_figure_and_none_hides_another(values: tuple[float, ...]) -> None:
    svg = points_within(values, mean=1.5, low=0.5, high=2.5, width=280, label="Stretch", unit="%")
    found = []
    for given in re.findall(r"<circle ([^>]*)/>", svg.markup):
        at = dict(re.findall(r'([\w-]+)="([^"]*)"', given))
        found.append((float(at["cx"]), float(at["cy"]), float(at["data-value"])))
    assert [value for *_, value in found] == list(values)
    assert len({(x, y) for x, y, _ in found}) == len(values)
    assert all(4 <= x <= 276 and 30 <= y <= svg.height for x, y, _ in found)
    mean = re.search(r'd="M([\d.]+) 2v24"', svg.markup)
    band = re.search(r'<rect x="([\d.]+)" y="6" width="([\d.]+)"', svg.markup)
    assert mean is not None
    assert band is not None
    left, wide = float(band[1]), float(band[2])
    assert float(mean[1]) == pytest.approx(left + wide / 2, abs=0.02)
    for x, _, value in found:
        assert x == pytest.approx(left + (value - 0.5) / 2 * wide, abs=0.05)
