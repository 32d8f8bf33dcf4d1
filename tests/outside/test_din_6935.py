"""DIN 6935 (cold bending of flat rolled steel), from memory: k = 0.65 + 0.5 log10(r/s), 1 from r/s = 5.

The text of the standard could not be read; the formula is printed in sheet-metal handbooks, and K = k/2 at
r = s is printed by a trade page on bend allowances as 0.33, and as 0.50 from r = 5 s on.
"""

import math

import pytest

from studio.craft.blanks import din_factor, din_length
from studio.craft.designs import Profile


@pytest.mark.parametrize(
    ("ratio", "half"), [(1.0, 0.33), (5.0, 0.50), (8.0, 0.50)], ids=["r=s", "r=5s", "beyond"]
)
def test_the_printed_position_of_the_neutral_line(ratio: float, half: float) -> None:
    assert din_factor(2.0, 2 * math.pi * 2.0 * ratio) / 2 == pytest.approx(half, abs=0.006)


@pytest.mark.parametrize(("ratio", "k"), [(0.65, 0.556), (2.0, 0.801), (3.0, 0.889), (4.0, 0.951)])
def test_the_formula_between_by_hand(ratio: float, k: float) -> None:
    # log10 of 0.65, 2, 3, 4 from a table: -0.1871, 0.3010, 0.4771, 0.6021
    assert din_factor(2.0, 2 * math.pi * 2.0 * ratio) == pytest.approx(k, abs=0.001)


def test_a_bend_of_two_millimetres_on_us_7() -> None:
    # D 17.32: r/s = 4.33, k = 0.65 + 0.5 x 0.63649 = 0.96824; 54.412 + pi x 2 x 0.96824 = 60.50
    assert din_length(Profile.FLAT, 2.0, math.pi * 17.32) == pytest.approx(60.496, abs=0.002)
