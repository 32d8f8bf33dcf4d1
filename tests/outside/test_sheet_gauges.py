"""Whole tables of sheet and wire gauges: Brown & Sharpe, the imperial standard, Birmingham's."""

import pytest

from studio.craft.sheet_gauges import GaugeScale, gauge_mm

# ASTM B258, nominal diameters of the American wire gauge: 36 is 0.005 in, 0000 is 0.46 in, 39 steps between;
# as in the encyclopedic article "American wire gauge". Number: inches, mm.
AMERICAN = {
    0: (0.32486, 8.251), 1: (0.28930, 7.348), 2: (0.25763, 6.544), 3: (0.22942, 5.827), 4: (0.20431, 5.189),
    5: (0.18194, 4.621), 6: (0.16202, 4.115), 7: (0.14429, 3.665), 8: (0.12849, 3.264), 9: (0.11442, 2.906),
    10: (0.10190, 2.588), 11: (0.09074, 2.305), 12: (0.08081, 2.053), 13: (0.07196, 1.828),
    14: (0.06408, 1.628), 15: (0.05707, 1.450), 16: (0.05082, 1.291), 17: (0.04526, 1.150),
    18: (0.04030, 1.024), 19: (0.03589, 0.912), 20: (0.03196, 0.812), 21: (0.02846, 0.723),
    22: (0.02535, 0.644), 23: (0.02257, 0.573), 24: (0.02010, 0.511), 25: (0.01790, 0.455),
    26: (0.01594, 0.405), 27: (0.01420, 0.361), 28: (0.01264, 0.321), 29: (0.01126, 0.286),
    30: (0.01003, 0.255), 31: (0.00893, 0.227), 32: (0.00795, 0.202), 33: (0.00708, 0.180),
    34: (0.00630, 0.160), 35: (0.00561, 0.143), 36: (0.00500, 0.127),
}  # fmt: skip
# New imperial standard wire gauge, in inches: a university's dictionary of units, and a 19th-century handbook
# of building construction. 14 and 26 could not be read in either.
IMPERIAL = {
    0: 0.324, 1: 0.3, 2: 0.276, 3: 0.252, 4: 0.232, 5: 0.212, 6: 0.192, 7: 0.176, 8: 0.16, 9: 0.144,
    10: 0.128, 11: 0.116, 12: 0.104, 13: 0.092, 15: 0.072, 16: 0.064, 17: 0.056, 18: 0.048, 19: 0.04,
    20: 0.036, 21: 0.032, 22: 0.028, 23: 0.024, 24: 0.022, 25: 0.02, 27: 0.0164, 28: 0.0148, 29: 0.0136,
    30: 0.0124, 31: 0.0116, 32: 0.0108, 33: 0.01, 34: 0.0092, 35: 0.0084, 36: 0.0076,
}  # fmt: skip
# Birmingham or Stubs' iron wire gauge, in inches: the same two.
BIRMINGHAM = {
    0: 0.34, 1: 0.3, 2: 0.284, 3: 0.259, 4: 0.238, 5: 0.22, 6: 0.203, 7: 0.18, 8: 0.165, 9: 0.148,
    10: 0.134, 11: 0.12, 12: 0.109, 13: 0.095, 15: 0.072, 16: 0.065, 17: 0.058, 18: 0.049, 19: 0.042,
    20: 0.035, 21: 0.032, 22: 0.028, 23: 0.025, 24: 0.022, 25: 0.02, 27: 0.016, 28: 0.014, 29: 0.013,
    30: 0.012, 31: 0.01, 32: 0.009, 33: 0.008, 34: 0.007, 35: 0.005, 36: 0.004,
}  # fmt: skip


@pytest.mark.parametrize("number", AMERICAN)
def test_the_american_gauge_is_that_of_astm_b258_to_the_last_digit(number: int) -> None:
    inches, mm = AMERICAN[number]
    assert round(gauge_mm(number) / 25.4, 5) == inches
    assert gauge_mm(number) == pytest.approx(mm, abs=0.0006)


def test_the_american_gauge_is_one_progression_between_its_two_fixed_ends() -> None:
    # ASTM B258: 0.46 in for 0000 and 0.005 in for 36, so each number is 92 ** (1/39) = 1.12293 of the next
    assert gauge_mm(-3) / 25.4 == pytest.approx(0.46)
    assert gauge_mm(36) / 25.4 == pytest.approx(0.005)
    steps = [gauge_mm(number) / gauge_mm(number + 1) for number in range(-3, 36)]
    assert len(steps) == 39
    assert all(step == pytest.approx(1.12293, abs=5e-6) for step in steps)


@pytest.mark.parametrize("number", IMPERIAL)
def test_the_imperial_gauge_is_that_of_its_table(number: int) -> None:
    assert gauge_mm(number, GaugeScale.SWG) / 25.4 == pytest.approx(IMPERIAL[number])


@pytest.mark.parametrize("number", BIRMINGHAM)
def test_birminghams_gauge_is_that_of_its_table(number: int) -> None:
    assert gauge_mm(number, GaugeScale.BWG) / 25.4 == pytest.approx(BIRMINGHAM[number])


def test_two_numbers_of_sheet_are_a_fifth_thinner_and_not_half() -> None:
    # a forum thread calls two numbers "half hard" and a 50 percent reduction; by ASTM B258 they are 20.7 %
    for number in range(35):
        assert 1 - gauge_mm(number + 2) / gauge_mm(number) == pytest.approx(0.207, abs=0.001)


def test_no_gauge_goes_by_the_british_sheet_gauge() -> None:
    # sheet and hoop gauge BG of 1914, a third British scale: 10 is 0.1250 in, 16 is 0.0625, 20 is 0.0392
    for number, inches in ((10, 0.125), (16, 0.0625), (20, 0.0392)):
        for scale in GaugeScale:
            assert gauge_mm(number, scale) / 25.4 != pytest.approx(inches, rel=0.01)
