"""A length the app prints means the same when it is typed back, in every accepted spelling."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.errors import Refusal, Refused
from studio.craft.units import (
    MM_PER_INCH,
    from_micrometres,
    gauge_mm,
    read_length,
    shown_length,
    to_micrometres,
)

MICROMETRES = st.integers(1, 1_000_000)
FULL_WIDTH = str.maketrans("0123456789.", "０１２３４５６７８９．")


def read(typed: str | float) -> float:
    return read_length(typed, "width", low_mm=0.0005, high_mm=1001)


@given(MICROMETRES)
def test_a_shown_length_reads_back_to_the_same_length(micrometres: int) -> None:
    mm = from_micrometres(micrometres)
    shown = shown_length(mm)
    assert read(shown) == mm
    assert read(mm) == mm
    assert to_micrometres(read(shown)) == micrometres


@given(MICROMETRES)
def test_it_reads_back_in_every_spelling(micrometres: int) -> None:
    mm = from_micrometres(micrometres)
    shown = shown_length(mm)
    for typed in (f"{shown} mm", f"{shown}MM", f"  {shown}  ", f"+{shown}", shown.translate(FULL_WIDTH)):
        assert read(typed) == mm
    assert read(f"{mm / 10:.4f} cm") == pytest.approx(mm)
    for unit in ("in", "inches", '"', "''", "″", "”"):
        assert read(f"{mm / MM_PER_INCH:.9f} {unit}") == pytest.approx(mm, abs=1e-6)
    comma = shown.replace(".", ",")
    if len(shown.partition(".")[2]) == 3:
        with pytest.raises(Refused):
            read(comma)
        comma += "0"
    assert read(comma) == mm


@given(st.integers(-3, 38))
def test_a_thinner_gauge_has_a_larger_number_by_one_ratio(number: int) -> None:
    assert gauge_mm(number) / gauge_mm(number + 1) == pytest.approx(92 ** (1 / 39))


@given(st.text(max_size=60) | st.floats() | st.integers() | st.booleans())
def test_anything_typed_is_read_within_its_limits_or_refused(typed: str | float) -> None:
    refusals: tuple[Refusal, ...] = ()
    mm = 1.0
    try:
        mm = read_length(typed, "width", low_mm=0.8, high_mm=40)
    except Refused as refused:
        refusals = refused.refusals
    assert 0.8 <= mm <= 40
    assert all(refusal.field == "width" and len(refusal.typed) <= 25 for refusal in refusals)
