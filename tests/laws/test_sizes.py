"""Labels and circumferences stand in one order and lead back to each other."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.designs import System
from studio.craft.errors import Refused
from studio.craft.sizes import all_sizes, nearest, read_size
from tests.strategies import SYSTEMS, circumferences

LARGEST_STEP_MM = {
    System.UK: 1.25,
    System.US: 0.6384,
    System.ISO: 1,
    System.JP: 1.0472,
    System.CH: 0.5,
    System.DE: 0.7854,
    System.HK: 1.3,
    System.IN: 1.28,
}
"""Between two printed labels; by table the widest gap: from 10 to 11 in HK, from 14 to 13 in IN."""
SIZES = SYSTEMS.flatmap(lambda system: st.tuples(st.just(system), circumferences(system)))
PAIRS = SYSTEMS.flatmap(
    lambda system: st.tuples(st.just(system), circumferences(system), circumferences(system))
)


@given(SIZES)
def test_a_printed_label_reads_back_to_itself(size: tuple[System, float]) -> None:
    system, circumference = size
    near = nearest(system, circumference)
    assert near is not None
    read = read_size(system, near.label)
    assert (read.label, read.circumference_mm) == (near.label, near.circumference_mm)
    again = nearest(system, read.circumference_mm)
    assert again is not None
    assert (again.label, again.error_mm) == (near.label, 0)


@given(SIZES)
def test_the_nearest_label_is_never_more_than_half_a_step_away(size: tuple[System, float]) -> None:
    system, circumference = size
    near = nearest(system, circumference)
    assert near is not None
    assert near.error_mm == near.circumference_mm - circumference
    assert abs(near.error_mm) <= LARGEST_STEP_MM[system] / 2 + 1e-4


@given(PAIRS)
def test_a_larger_ring_never_has_a_smaller_label(pair: tuple[System, float, float]) -> None:
    system, one, other = pair
    smaller, larger = nearest(system, min(one, other)), nearest(system, max(one, other))
    assert smaller is not None
    assert larger is not None
    assert smaller.circumference_mm <= larger.circumference_mm


@given(
    st.sampled_from([System.US, System.ISO, System.JP, System.CH, System.DE, System.HK, System.IN]),
    st.fractions(0, 90, max_denominator=8),
    st.fractions(0, 90, max_denominator=8),
)
def test_a_larger_number_is_a_larger_circumference(system: System, one: float, other: float) -> None:
    try:
        smaller, larger = (read_size(system, str(float(size))) for size in sorted((one, other)))
    except Refused:
        return
    assert (smaller.circumference_mm < larger.circumference_mm) == (one != other)


@given(st.integers(0, 25 * 4), st.integers(0, 25 * 4))
def test_a_later_letter_is_a_larger_circumference(one: int, other: int) -> None:
    def read(quarters: int) -> float:
        letter = chr(ord("A") + quarters // 4)
        return read_size(System.UK, f"{letter}{('', '¼', '½', '¾')[quarters % 4]}").circumference_mm

    assert (read(one) < read(other)) == (one < other)


@given(st.floats(0, 200))
def test_any_circumference_has_a_label_or_none_in_every_system(circumference: float) -> None:
    for near in all_sizes(circumference).values():
        assert near is None or math.isfinite(near.error_mm)


@given(SYSTEMS, st.text(max_size=50))
def test_anything_typed_is_a_size_or_refused(system: System, typed: str) -> None:
    fields = ["finger.size"]
    size = read_size(System.ISO, "54")
    try:
        size = read_size(system, typed)
    except Refused as refused:
        fields = [refusal.field for refusal in refused.refusals]
        system = System.ISO
    assert fields == ["finger.size"]
    assert 30 <= size.circumference_mm <= 90
    assert read_size(system, size.label) == size


@pytest.mark.parametrize(
    ("system", "labels"),
    [
        (System.UK, 51 + 22),
        (System.US, 65),
        (System.ISO, 36),
        (System.JP, 35),
        (System.CH, 71),
        (System.DE, 49),
        (System.HK, 25),
        (System.IN, 31),
    ],
)
def test_a_walk_through_all_circumferences_meets_every_label_once(system: System, labels: int) -> None:
    met = [near.label for um in range(30_000, 98_000, 10) if (near := nearest(system, um / 1000))]
    changes = [label for label, before in zip(met, [None, *met], strict=False) if label != before]
    assert len(changes) == len(set(changes)) == labels
