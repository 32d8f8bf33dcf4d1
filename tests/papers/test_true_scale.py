import math

import numpy as np
import pytest

from studio.craft.designs import Profile, System
from studio.craft.drawing import sheet_blank
from studio.papers.bench_sheet import bench_sheet
from tests.builders import a_finger
from tests.papers.printed import PIXEL_MM, lines_across, middles, pixels, sheet
from tests.papers.sheets import SHEETS, a_reckoning, a_ring

WITHIN_MM = 0.1
PAGE_MM = 182.0  # A4 less both margins


@pytest.mark.parametrize(
    "kind", ["plain", "hammered-flat", "half-round-wire", "longest-blank", "widest-band"]
)
def test_the_blank_lies_on_the_paper_as_long_and_as_wide_as_its_figures(kind: str) -> None:
    reckoning = SHEETS[kind].reckoning
    edges = lines_across(pixels(sheet(kind)), reckoning.mark_mm)
    # The lowest such line is the blank's foot; its head lies one width above, the dimension line higher.
    foot = edges[-1][2] + PIXEL_MM
    head = min(y for _, _, y in edges if foot - y < reckoning.design.width_mm + 0.5)
    assert foot - head == pytest.approx(reckoning.design.width_mm, abs=WITHIN_MM)
    left, right, _ = edges[-1]
    assert right - left == pytest.approx(reckoning.mark_mm, abs=WITHIN_MM)


@pytest.mark.parametrize("kind", ["plain", "widest-band"])
def test_the_bar_across_measures_a_hundred_millimetres(kind: str) -> None:
    ink = pixels(sheet(kind))
    left, right, y = next(line for line in lines_across(ink, 100.25, 0.2))
    above = round((y - 4.5) / PIXEL_MM)
    ends = middles(ink[above, round((left - 1) / PIXEL_MM) : round((right + 1) / PIXEL_MM)])
    assert len(ends) == 2
    assert ends[1] - ends[0] == pytest.approx(100.0, abs=WITHIN_MM)


@pytest.mark.parametrize("kind", ["plain", "widest-band"])
def test_the_bar_down_measures_a_hundred_millimetres(kind: str) -> None:
    ink = np.ascontiguousarray(pixels(sheet(kind)).T)
    top, bottom, x = next(line for line in lines_across(ink, 100.25, 0.2))
    beside = round((x - 1.5) / PIXEL_MM)
    ends = middles(ink[beside, round((top - 1) / PIXEL_MM) : round((bottom + 1) / PIXEL_MM)])
    assert len(ends) == 2
    assert ends[1] - ends[0] == pytest.approx(100.0, abs=WITHIN_MM)


def test_the_longest_blank_that_can_be_made_fits_across_the_page() -> None:
    longest = a_reckoning(Profile.ROUND, 8.0, None, "silver-925", a_finger("90", System.ISO), fit_mm=5.0)
    assert longest.mark_mm == pytest.approx(90 + 5 + math.pi * 8 + 1.0)
    assert sheet_blank(longest).width < PAGE_MM


def test_every_drawing_of_the_widest_band_fits_across_the_page() -> None:
    paper = bench_sheet(a_ring(SHEETS["widest-band"].reckoning))
    assert max(drawing.width for drawing in (paper.blank, paper.views, paper.section, paper.across)) < PAGE_MM
