"""Amounts, percentages and counts as they are typed, and as their fields show them."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest

from studio.web.amounts import (
    read_amount,
    read_count,
    read_minor,
    read_percent,
    shown_amount,
    shown_percent,
)
from studio.web.errors import FieldErrors


def refused(reader: Callable[[object, str], object], typed: object) -> str:
    with pytest.raises(FieldErrors) as found:
        reader(typed, "here")
    (error,) = found.value.errors
    assert error.field == "here"
    return error.message


@pytest.mark.parametrize(
    ("currency", "typed", "minor"),
    [
        ("GBP", "48", 4800),
        ("GBP", "48.5", 4850),
        ("GBP", " 48,50 ", 4850),
        ("GBP", "£48.50", 4850),
        ("GBP", "48.50 gbp", 4850),
        ("GBP", "GBP 0", 0),
        ("GBP", ".05", 5),
        ("GBP", "５０", 5000),
        ("JPY", "1500", 1500),
        ("KWD", "1.234", 1234),
    ],
)
def test_an_amount_is_read_to_the_minor_unit(currency: str, typed: str, minor: int) -> None:
    assert read_amount(currency)(typed, "here") == minor
    assert read_amount(currency)(shown_amount(minor, currency), "here") == minor


@pytest.mark.parametrize(
    ("currency", "typed", "words"),
    [
        ("GBP", "1,234", "1,234 could be a thousand or a fraction. Write a point, or no comma."),
        ("GBP", "48.505", "GBP has 2 places after the point."),
        ("JPY", "15.5", "JPY has no places after the point."),
        ("GBP", "-3", "This cannot be below 0."),
        ("GBP", "forty", "We cannot read this as a number. Type it like 48 or 48.50."),
        ("GBP", "£", "We cannot read this as a number. Type it like 48 or 48.50."),
        ("GBP", "1e3", "We cannot read this as a number. Type it like 48 or 48.50."),
        ("GBP", "99999999999", "This is more than we can reckon with."),
        ("GBP", "1" + "0" * 30, "This is more than we can reckon with."),
        ("KWD", "9" * 40, "This is more than we can reckon with."),
        ("GBP", "9" * 10_000, "This is too long: 10000 signs where 40 have room."),
        ("GBP", True, "This has to be text."),
    ],
)
def test_what_is_no_amount_is_said(currency: str, typed: object, words: str) -> None:
    assert refused(read_amount(currency), typed) == words


@pytest.mark.parametrize(
    ("typed", "percent", "shown"),
    [
        ("20", "20", "20"),
        ("12,5 %", "12.5", "12.5"),
        ("0", "0", "0"),
        ("33.33%", "33.33", "33.33"),
        (40, "40", "40"),
    ],
)
def test_a_percentage_is_read_to_the_hundredth(typed: object, percent: str, shown: str) -> None:
    read = read_percent(100)(typed, "here")
    assert read == Decimal(percent)
    assert shown_percent(read) == shown


@pytest.mark.parametrize(
    ("most", "is_reached", "typed", "words"),
    [
        (100, True, "100.01", "This has to be at most 100 %."),
        (95, False, "95", "This has to be below 95 %."),
        (100, True, "12.345", "A percentage has at most two places after the point."),
        (100, True, float("1e-7"), "We cannot read this as a number. Type it like 48 or 48.50."),
    ],
)
def test_a_percentage_stays_in_its_range(most: int, is_reached: bool, typed: object, words: str) -> None:  # noqa: FBT001  a column of the table above
    assert refused(read_percent(most, is_reached=is_reached), typed) == words


@pytest.mark.parametrize(("typed", "count"), [("14", 14), (14, 14), ("14 days", 14), ("1 day", 1)])
def test_a_count_may_say_what_it_counts(typed: object, count: int) -> None:
    assert read_count(1, 365, "day", "days")(typed, "here") == count


@pytest.mark.parametrize("typed", [0, 366, "366", "-1", "1.5", "two", True, [], None, "9" * 39])
def test_a_count_that_is_none_is_said(typed: Any) -> None:
    assert refused(read_count(1, 365, "day", "days"), typed)


@pytest.mark.parametrize("typed", [-1, 1.5, "1200", True, None, 10**15])
def test_minor_units_of_a_program_are_whole(typed: Any) -> None:
    assert refused(read_minor, typed)
    assert read_minor(1200, "here") == 1200
