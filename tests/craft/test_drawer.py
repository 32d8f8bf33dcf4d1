"""What a piece weighs by its measures, when a weight is asked about, and what a thicker one becomes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.designs import Profile
from studio.craft.drawer import Measures, PieceKind, check_measures, differs_percent, rolled_down
from studio.craft.errors import Refused
from studio.craft.practice import MillTerms

MILL = MillTerms()


def sheet(length: float = 198, width: float = 24, thickness: float = 1.5) -> Measures:
    return Measures(PieceKind.SHEET, "silver-925", length, width, thickness)


def test_a_sheet_weighs_its_volume_times_its_density() -> None:
    # by hand: 198 x 24 x 1.5 mm is 7.128 cm3; sterling 10.36 g/cm3
    assert sheet().mass_g(10.36) == pytest.approx(73.846, abs=0.001)


def test_a_wire_has_the_section_of_its_profile() -> None:
    # round wire 2 mm, 500 long: pi x 500 mm3, 1.5708 cm3 of fine silver at 10.49
    wire = Measures(PieceKind.WIRE, "silver-999", 500, 2, 2, Profile.ROUND)
    assert wire.mass_g(10.49) == pytest.approx(16.478, abs=0.001)


@pytest.mark.parametrize(
    ("weighed", "told"), [(73.8, None), (71.5, None), (70.0, -5.2), (80.0, 8.3), (0.03, None)]
)
def test_a_weight_far_from_the_measures_is_asked_about(weighed: float, told: float | None) -> None:
    found = differs_percent(weighed, 0.05 if weighed < 1 else 73.846)
    assert found == (None if told is None else pytest.approx(told, abs=0.05))


@pytest.mark.parametrize(
    "measures",
    [
        sheet(length=0),
        sheet(width=5000),
        sheet(thickness=0.01),
        Measures(PieceKind.WIRE, "silver-925", 100, 2, 2),
        Measures(PieceKind.STRIP, "silver-925", 100, 2, 2, Profile.ROUND),
    ],
)
def test_what_is_no_piece_is_refused(measures: Measures) -> None:
    with pytest.raises(Refused):
        check_measures(measures)


def test_a_thicker_piece_is_rolled_down_by_volume() -> None:
    found = rolled_down(sheet(50, 10, 2.0), 1.5, MILL)
    assert found is not None
    assert found.length_mm == pytest.approx(66.667, abs=0.001)
    assert found.width_mm == 10
    # 2 x 0.9 x 0.9 x 0.9 = 1.458: two passes leave 1.62, the third goes to 1.5
    assert found.passes == 3


@pytest.mark.parametrize(
    ("piece", "thickness", "mill"),
    [
        (sheet(50, 10, 1.5), 1.5, MILL),  # as thick already
        (sheet(50, 10, 1.2), 1.5, MILL),  # thinner
        (sheet(50, 80, 2.0), 1.5, MILL),  # wider than the mill
        (sheet(50, 10, 2.0), 0.4, MILL),  # 16 passes
        (Measures(PieceKind.WIRE, "silver-925", 100, 3, 3, Profile.SQUARE), 1.5, MILL),
    ],
)
def test_what_the_mill_does_not_take_is_not_offered(
    piece: Measures, thickness: float, mill: MillTerms
) -> None:
    assert rolled_down(piece, thickness, mill) is None


@given(st.floats(20, 400), st.floats(2, 59), st.floats(0.6, 4.0), st.floats(0.3, 0.98))
def test_rolling_keeps_the_metal(length: float, width: float, thickness: float, share: float) -> None:
    piece = sheet(length, width, thickness)
    found = rolled_down(piece, thickness * share, MILL)
    if found is not None:
        volume = found.length_mm * found.width_mm * found.thickness_mm
        assert volume == pytest.approx(length * width * thickness)
        assert found.thickness_mm >= thickness * (1 - MILL.pass_percent / 100) ** found.passes * (1 - 1e-9)
