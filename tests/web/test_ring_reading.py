"""A ring as it is read from a page or from the API, before any of it is kept."""

from datetime import date
from typing import Any

import pytest

from studio.web.errors import FieldErrors
from studio.web.finger_reading import read_finger
from studio.web.forms import COMMON, Calendar, read_ring

CALENDAR = Calendar(date(2026, 11, 25), "Europe/London")


def a_wire(width: Any, thickness: Any) -> dict[str, Any]:
    """A ring of round wire, its finger measured."""
    return {
        "finger": {"system": "uk", "size": "O½"},
        "profile": "round",
        "width": width,
        "thickness": thickness,
        "alloy": "silver-925",
    }


def errors(raw: dict[str, Any]) -> dict[str | None, str]:
    with pytest.raises(FieldErrors) as caught:
        read_ring(raw, "", CALENDAR)
    told = {error.field: error.message for error in caught.value.errors}
    assert len(told) == len(caught.value.errors)
    return told


@pytest.mark.parametrize(("width", "thickness"), [("9", "9"), (9, 9), ("9 ", "9"), (9.0, 9)])
def test_wire_too_thick_on_both_sides_is_told_once(width: Any, thickness: Any) -> None:
    told = errors(a_wire(width, thickness))
    assert told.keys() == {"width"}
    assert told["width"].endswith("Did you mean 0.9?")


def test_wire_with_two_different_wrongs_is_told_both() -> None:
    assert errors(a_wire("9", "two")).keys() == {"width", "thickness"}
    assert errors(a_wire(None, "9")).keys() == {"thickness"}


def test_a_band_as_wide_as_it_is_thick_is_told_both() -> None:
    assert errors({**a_wire("60", "60"), "profile": "flat"}).keys() == {"width", "thickness"}


@pytest.mark.parametrize("far_end", ["O½", "o 1/2", "O.5"])
def test_a_size_to_the_same_size_is_no_range(far_end: str) -> None:
    finger = read_finger({"system": "uk", "size": "O½", "size_to": far_end}, "finger", workshop=COMMON)
    assert (finger.label, finger.to_label, finger.to_circumference_mm) == ("O½", None, None)


def test_a_size_to_a_larger_one_stays_a_range() -> None:
    finger = read_finger({"system": "uk", "size": "O½", "size_to": "P"}, "finger", workshop=COMMON)
    assert (finger.label, finger.to_label) == ("O½", "P")
