"""Saw blades against a chart of jewellers' saw blades."""

import pytest

from studio.craft.blades import THOUSANDTHS_IN, kerf_mm

CHART = {
    # blade: thickness in inch and mm, as a trade page's chart of saw blades prints it
    "6/0": (0.0070, 0.178), "5/0": (0.0080, 0.203), "4/0": (0.0086, 0.218), "2/0": (0.0103, 0.262),
    "1/0": (0.0110, 0.279), "1": (0.0120, 0.305), "2": (0.0134, 0.340), "4": (0.0150, 0.381),
    "6": (0.0173, 0.439),
}  # fmt: skip


@pytest.mark.parametrize("blade", CHART)
def test_a_blade_is_as_thick_as_the_chart_says_in_both_measures(blade: str) -> None:
    inch, mm = CHART[blade]
    assert THOUSANDTHS_IN[blade] / 1000 == pytest.approx(inch)
    assert THOUSANDTHS_IN[blade] / 1000 * 25.4 == pytest.approx(mm, abs=0.0006)


def test_the_misprints_of_the_chart_are_not_taken_over() -> None:
    # the chart prints 0.4826 mm for 3/0, which is its depth, and wrong mm for 3: inches are right for both
    assert THOUSANDTHS_IN["3/0"] / 1000 * 25.4 == pytest.approx(0.2413)
    assert THOUSANDTHS_IN["3"] / 1000 * 25.4 == pytest.approx(0.3556)


def test_the_finest_two_are_those_of_memory_and_no_blade_is_left_unchecked() -> None:
    # 8/0 0.0063 in and 7/0 0.0067 in: from memory of makers' charts, no page read has them
    assert (THOUSANDTHS_IN["8/0"], THOUSANDTHS_IN["7/0"]) == (6.3, 6.7)
    assert set(THOUSANDTHS_IN) - set(CHART) == {"8/0", "7/0", "3/0", "3"}


def test_a_cut_is_a_tenth_wider_than_its_blade() -> None:
    # common practice, no source: 1.1 to 1.2 times the blade
    assert (kerf_mm("1/0"), kerf_mm("4/0"), kerf_mm("6")) == (0.31, 0.24, 0.48)
    kerfs = [kerf_mm(blade) for blade in THOUSANDTHS_IN]
    assert kerfs == sorted(kerfs)
