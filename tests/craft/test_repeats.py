"""Whole repeats of a pattern round the closed ring."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.errors import Refused
from studio.craft.repeats import repeats, repeats_of
from tests.papers.sheets import a_reckoning

LENGTHS, PITCHES, GROWTHS = st.floats(30, 150), st.floats(0.3, 40), st.floats(1, 1.2)


def test_the_worked_example_of_the_docstring() -> None:
    found = repeats(60.65, 2.5, 1.015)
    assert found.count == 24
    assert found.pitch_mm == pytest.approx(2.527, abs=5e-4)
    assert found.marked_mm == pytest.approx(2.490, abs=5e-4)
    assert found.marked_length_mm == pytest.approx(59.75, abs=5e-3)


@given(LENGTHS, PITCHES, GROWTHS)
def test_repeats_times_pitch_is_the_length_before_and_after(
    length: float, pitch: float, grown: float
) -> None:
    found = repeats(length, pitch, grown)
    assert found.count * found.pitch_mm == pytest.approx(length, abs=1e-9)
    assert found.count * found.marked_mm * grown == pytest.approx(length, abs=1e-9)
    assert found.marks_mm[0] == 0
    assert found.marks_mm[-1] == pytest.approx(found.marked_length_mm, abs=1e-9)


@given(LENGTHS, PITCHES)
def test_no_other_whole_number_is_nearer(length: float, pitch: float) -> None:
    found = repeats(length, pitch)
    assert found.count >= 1
    if length / pitch >= 0.5:
        assert abs(found.count - length / pitch) <= 0.5 + 1e-9


@given(LENGTHS, PITCHES, PITCHES)
def test_a_wider_pitch_never_gives_more_repeats(length: float, one: float, other: float) -> None:
    narrow, wide = sorted((one, other))
    assert repeats(length, wide).count <= repeats(length, narrow).count


@pytest.mark.parametrize("pitch", [0.29, 40.1])
def test_a_pitch_that_is_none_is_refused(pitch: float) -> None:
    with pytest.raises(Refused) as refused:
        repeats(60.65, pitch)
    assert refused.value.refusals[0].field == "pitch"


def test_the_strip_is_marked_where_it_ends_before_the_pattern() -> None:
    flat = a_reckoning(pattern=Pattern.STAMPED)
    assert repeats_of(flat, 2.5).marked_length_mm == pytest.approx(flat.flat_length_mm, abs=1e-9)
    closed = a_reckoning(pattern=Pattern.STAMPED, pattern_when=PatternWhen.CLOSED)
    assert repeats_of(closed, 2.5).length_mm == closed.neutral_length_mm
    assert repeats_of(closed, 2.5).marked_length_mm == pytest.approx(closed.true_length_mm, abs=1e-9)
