"""Ring sizes and gauges against the standards that define them."""

import math

import pytest

from studio.craft.designs import System
from studio.craft.sheet_gauges import gauge_mm
from studio.craft.sizes import nearest, read_size
from studio.craft.units import MM_PER_INCH, read_length

# Encyclopedic article "Ring size", table of ISO sizes: label and diameter in mm, printed to a tenth.
ISO_DIAMETERS = (
    (49, 15.6), (50, 15.9), (51, 16.2), (52, 16.6), (53, 16.9), (54, 17.2), (55, 17.5), (56, 17.8),
    (57, 18.1),
    (58, 18.5), (59, 18.8), (60, 19.1), (61, 19.4), (62, 19.7), (64, 20.4), (65, 20.7), (66, 21.0),
    (70, 22.3),
    (72, 22.9),
)  # fmt: skip


@pytest.mark.parametrize("size", range(41, 77))
def test_iso_8653_sizes_are_the_circumference(size: int) -> None:
    # ISO 8653:2016 (first edition 1986), ring sizes 41 to 76: the size is the inside circumference in mm
    assert read_size(System.ISO, str(size)).circumference_mm == size
    near = nearest(System.ISO, size)
    assert near is not None
    assert near.label == str(size)


@pytest.mark.parametrize(("size", "diameter"), ISO_DIAMETERS)
def test_iso_diameters_agree_to_the_printed_digit(size: int, diameter: float) -> None:
    assert round(read_size(System.ISO, str(size)).circumference_mm / math.pi, 1) == diameter


def test_jis_s_4700_of_1998_is_the_iso_scale_and_not_the_customary_number() -> None:
    # JIS S 4700:1998 adopts ISO 8653:1986 word for word: sizes 41 to 76, rounded to the nearest whole mm. The
    # trade's rule "JIS is the number plus 40" holds up to number 14 and is one too small from 15 on.
    def jis(number: int) -> int:
        near = nearest(System.ISO, read_size(System.JP, str(number)).circumference_mm)
        assert near is not None
        return int(near.label)

    assert [jis(number) - number for number in range(1, 15)] == [40] * 14
    assert [jis(number) - number for number in range(15, 28)] == [41] * 13


# Customary Japanese numbers, circumference in mm as printed in Japanese trade articles on the scale (four
# read, they agree). Some of them reckon with pi = 3.14.
CUSTOMARY = (
    (1, 40.8), (2, 41.9), (3, 42.9), (4, 44.0), (5, 45.0), (6, 46.1), (7, 47.1), (8, 48.2), (9, 49.2),
    (10, 50.3),
    (11, 51.3), (12, 52.4), (13, 53.4), (14, 54.5), (15, 55.5), (16, 56.6), (18, 58.6), (19, 59.7),
    (20, 60.7),
    (21, 61.8), (22, 62.8), (24, 64.9), (25, 66.0), (26, 67.0), (27, 68.0),
)  # fmt: skip


@pytest.mark.parametrize(("number", "circumference"), CUSTOMARY)
def test_the_customary_japanese_number(number: int, circumference: float) -> None:
    assert read_size(System.JP, str(number)).circumference_mm == pytest.approx(circumference, abs=0.08)


def test_number_19_has_a_diameter_of_exactly_19() -> None:
    # Japanese trade articles: 13 mm at number 1, a third of a millimetre for each number
    assert read_size(System.JP, "1").circumference_mm == pytest.approx(13 * math.pi)
    assert read_size(System.JP, "19").circumference_mm == pytest.approx(19 * math.pi)


# ASTM B258, nominal diameters of the American wire gauge in inches, to four decimals; also in the
# encyclopedic article "American wire gauge".
GAUGES = (
    (-3, 0.4600), (-2, 0.4096), (-1, 0.3648), (0, 0.3249), (1, 0.2893), (2, 0.2576), (4, 0.2043), (6, 0.1620),
    (8, 0.1285), (10, 0.1019), (12, 0.0808), (14, 0.0641), (16, 0.0508), (18, 0.0403), (20, 0.0320),
    (22, 0.0253),
    (24, 0.0201), (26, 0.0159), (28, 0.0126), (30, 0.0100), (36, 0.0050),
)  # fmt: skip


@pytest.mark.parametrize(("number", "inches"), GAUGES)
def test_gauges_agree_with_astm_b258_to_the_printed_digit(number: int, inches: float) -> None:
    assert round(gauge_mm(number) / MM_PER_INCH, 4) == inches


# Thickness in mm that the chart "Ring blank lengths" of the handbook "Jeweler's Resource" gives its gauges.
HANDBOOK_GAUGES = ((12, 2.1), (14, 1.6), (16, 1.3), (18, 1.0), (20, 0.8), (22, 0.6), (24, 0.5))


@pytest.mark.parametrize(("number", "mm"), HANDBOOK_GAUGES)
def test_the_handbook_rounds_the_same_gauges(number: int, mm: float) -> None:
    assert read_length(f"{number} ga", "thickness", low_mm=0.3, high_mm=6) == pytest.approx(mm, abs=0.05)
