import math

import pytest

from studio.craft.designs import Finger, Measured, Pattern, PatternWhen, Profile, System
from studio.craft.neighbours import neighbouring_marks
from studio.craft.reckonings import reckon
from studio.craft.sizes import nearest, read_size
from tests.builders import a_finger
from tests.papers.sheets import a_reckoning


def test_half_a_size_up_and_a_tenth_thicker_lengthen_the_mark_as_worked_by_hand() -> None:
    near = neighbouring_marks(a_reckoning())
    assert near.labels == ("N½", "O", "O½", "P", "P½")
    assert near.thicknesses_mm == (1.5, 1.6, 1.7)
    assert (near.own_row, near.own_column) == (1, 2)
    own = 55.625 + math.pi * 1.6 + 1.0
    assert near.marks_mm[1][2] == pytest.approx(own)
    assert near.marks_mm[1] == pytest.approx([own + 0.625 * steps for steps in (-2, -1, 0, 1, 2)])
    assert near.marks_mm[2][2] == pytest.approx(own + math.pi * 0.1)
    assert [round(mark, 2) for mark in (own, near.marks_mm[1][3], near.marks_mm[2][2])] == [
        61.65,
        62.28,
        61.97,
    ]


@pytest.mark.parametrize(
    ("system", "size", "labels"),
    [
        (System.US, "7", ("6", "6½", "7", "7½", "8")),
        (System.ISO, "54", ("52", "53", "54", "55", "56")),
        (System.JP, "10", ("8", "9", "10", "11", "12")),
        (System.CH, "14½", ("13½", "14", "14½", "15", "15½")),
        (System.DE, "17.5", ("17", "17¼", "17½", "17¾", "18")),
        (System.UK, "Z", ("Y", "Y½", "Z", "Z+1")),
        (System.UK, "A", ("A", "A½", "B")),
        (System.ISO, "76", ("74", "75", "76")),
    ],
)
def test_the_columns_are_the_neighbours_of_the_customers_own_system(
    system: System, size: str, labels: tuple[str, ...]
) -> None:
    near = neighbouring_marks(a_reckoning(finger=a_finger(size, system)))
    assert near.labels == labels
    assert near.labels[near.own_column] == read_size(system, size).label


def test_the_columns_are_labels_of_the_ring_and_not_of_the_finger_it_is_made_larger_for() -> None:
    # UK N is 53.75 mm; 8 mm wide and only told, it takes 1 mm more: 54.75, nearest to O, 55.0
    finger = a_finger("N", measured=Measured.TOLD, gauge_width_mm=None)
    ring = a_reckoning(width_mm=8.0, finger=finger, pattern=Pattern.HAMMERED)
    assert ring.circumference_mm == 54.75
    near = neighbouring_marks(ring)
    assert near.labels == ("N", "N½", "O", "O½", "P")
    assert near.labels[near.own_column] == "O"
    assert near.marks_mm[near.own_row][near.own_column] == ring.mark_mm
    # hammered flat 0.5 % at the least, and a millimetre of trim: half a size up adds 0.625 to the true length
    own = (54.75 + math.pi * 1.6) / 1.005 + 1
    steps = [0.625 / 1.005 * halves for halves in (-2, -1, 0, 1, 2)]
    assert near.marks_mm[near.own_row] == pytest.approx([own + step for step in steps])


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("fit_mm", [-0.8, 0.0, 0.3, 1.0, 5.0])
def test_the_rings_own_column_bears_its_own_label_and_its_own_mark(system: System, fit_mm: float) -> None:
    label = nearest(system, 55.625)
    assert label is not None
    ring = a_reckoning(width_mm=9.0, finger=a_finger(label.label, system), fit_mm=fit_mm)
    near, own = neighbouring_marks(ring), ring.sizes[system]
    assert own is not None
    assert near.labels[near.own_column] == own.label
    assert near.marks_mm[near.own_row][near.own_column] == ring.mark_mm
    assert list(near.marks_mm[0]) == sorted(near.marks_mm[0])


@pytest.mark.parametrize("pattern_when", list(PatternWhen))
def test_each_mark_is_the_one_of_a_ring_reckoned_for_that_size_and_thickness(
    pattern_when: PatternWhen,
) -> None:
    ring = a_reckoning(width_mm=9.0, pattern=Pattern.HAMMERED, pattern_when=pattern_when)
    near, own = neighbouring_marks(ring), ring.sizes[System.UK]
    assert own is not None
    assert ring.fit_mm == 0.75
    for row, thickness_mm in enumerate(near.thicknesses_mm):
        for column, label in enumerate(near.labels):
            # as far from its label as the ring as ordered is from its own
            around = read_size(System.UK, label).circumference_mm - own.error_mm
            other = a_reckoning(
                width_mm=9.0,
                thickness_mm=thickness_mm,
                finger=a_finger(circumference_mm=around - ring.fit_mm),
                pattern=Pattern.HAMMERED,
                pattern_when=pattern_when,
            )
            assert near.marks_mm[row][column] == pytest.approx(other.mark_mm)
    assert near.marks_mm[near.own_row][near.own_column] == ring.mark_mm


def test_thicker_wire_is_still_the_same_size_though_the_fit_rule_would_jump() -> None:
    # told, wire of 4 mm takes no allowance and 4.1 would take half a millimetre; the size asked for stays
    finger = a_finger(measured=Measured.TOLD, gauge_width_mm=None)
    near = neighbouring_marks(a_reckoning(Profile.SQUARE, 4.0, None, finger=finger))
    own = [row[near.own_column] for row in near.marks_mm]
    assert own == pytest.approx([own[1] - math.pi * 0.1, own[1], own[1] + math.pi * 0.1])


def test_wire_grows_on_both_sides_and_a_size_that_is_not_made_is_left_out() -> None:
    near = neighbouring_marks(a_reckoning(Profile.ROUND, 0.5, None))
    assert near.thicknesses_mm == (0.5, 0.6)
    assert near.own_row == 0
    assert near.marks_mm[1][0] - near.marks_mm[0][0] == pytest.approx(math.pi * 0.1)


def test_a_size_not_settled_yet_is_counted_from_its_larger_end() -> None:
    finger = a_finger("J", to_label="M", to_circumference_mm=52.5)
    near = neighbouring_marks(a_reckoning(finger=finger))
    assert near.labels == ("L", "L½", "M", "M½", "N")
    assert near.labels[near.own_column] == "M"


def test_a_size_beyond_its_systems_list_stands_alone() -> None:
    finger = Finger(System.ISO, "85", 85.0)
    near = neighbouring_marks(reckon(finger, a_reckoning().design))
    assert near.labels == ("85.5 mm",)
    assert len(near.marks_mm) == 3
