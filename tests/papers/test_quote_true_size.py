"""The ring on the quote, measured on the printed page at 300 dpi.

Middles of lines are measured; the metal's edge lies half a line further out, inside half a line further in.
The raster moves straight lines to whole pixels of 0.085 mm, so no more than a tenth of a mm is asked.
"""

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from studio.craft.reckonings import Reckoning
from studio.papers.printing import printed
from studio.papers.quote import quote_paper, quote_to_print
from tests.papers.printed import PIXEL_MM, lines_across, middles, pixels
from tests.papers.quotes import a_quote
from tests.papers.sheets import a_reckoning

WITHIN_MM = 0.1
RINGS = {
    "usual": a_reckoning(),
    "wide": a_reckoning(width_mm=8.0, thickness_mm=1.4, alloy="silver-925"),
    "thin": a_reckoning(width_mm=5.0, thickness_mm=0.9),
}
LINES_MM = {"usual": 0.5, "wide": 0.5, "thin": 0.25}


def over_all_mm(reckoning: Reckoning) -> float:
    return reckoning.diameter_mm + 2 * reckoning.design.thickness_mm


def strokes(ink: NDArray[np.float64], line: int, first_mm: float, last_mm: float) -> list[float]:
    """The middles of the strokes that row `line` crosses between two places, in mm from the page's edge."""
    start = round(first_mm / PIXEL_MM)
    return [start * PIXEL_MM + at for at in middles(ink[line, start : round(last_mm / PIXEL_MM)])]


def side_view(ink: NDArray[np.float64], reckoning: Reckoning) -> tuple[float, float, float, float]:
    """About where the side view lies on the page: left, right, head and foot in mm."""
    edges = lines_across(ink, reckoning.design.width_mm, 0.2)
    high = over_all_mm(reckoning)
    return next(
        (left, right, head, foot)
        for left, right, head in edges
        for other, _, foot in edges
        if abs(other - left) < 0.2 and abs(foot - head - high) < 1
    )


@pytest.mark.parametrize("kind", sorted(RINGS))
def test_the_side_measures_true(kind: str) -> None:
    reckoning, line_mm = RINGS[kind], LINES_MM[kind]
    ink = pixels(printed(quote_to_print(quote_paper(a_quote(reckoning)))))
    left, right, head, foot = side_view(ink, reckoning)
    upright = np.ascontiguousarray(ink.T)
    down = strokes(upright, round((left + 1.3) / PIXEL_MM), head - 0.6, foot + 0.6)
    assert down[-1] - down[0] + line_mm == pytest.approx(over_all_mm(reckoning), abs=WITHIN_MM)
    across = strokes(ink, round((head + 1.6) / PIXEL_MM), left - 0.6, right + 0.6)
    assert across[-1] - across[0] + line_mm == pytest.approx(reckoning.design.width_mm, abs=WITHIN_MM)


@pytest.mark.parametrize("kind", sorted(RINGS))
def test_a_ring_laid_on_the_front_fits_its_circles(kind: str) -> None:
    reckoning, line_mm = RINGS[kind], LINES_MM[kind]
    ink = pixels(printed(quote_to_print(quote_paper(a_quote(reckoning)))))
    left, _, head, foot = side_view(ink, reckoning)
    # A little above the middle, clear of the line across; what lies between is the upright centre line.
    row = round(((head + foot) / 2 - 2.0) / PIXEL_MM)
    found = strokes(ink, row, left - over_all_mm(reckoning) - 9, left - 1)
    above_mm = (head + foot) / 2 - row * PIXEL_MM
    outside_mm, inside_mm = over_all_mm(reckoning) / 2 - line_mm / 2, reckoning.diameter_mm / 2 + line_mm / 2
    for radius_mm, chord in ((outside_mm, found[-1] - found[0]), (inside_mm, found[-2] - found[1])):
        assert chord == pytest.approx(2 * math.sqrt(radius_mm**2 - above_mm**2), abs=WITHIN_MM)
