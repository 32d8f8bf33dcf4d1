import math

import pytest

from studio.craft.errors import Refusal, Refused, Why
from studio.craft.sheet_gauges import gauge_mm
from studio.craft.units import (
    figure_words,
    from_micrometres,
    from_milligrams,
    read_length,
    read_number,
    shown_length,
    to_micrometres,
    to_milligrams,
)


def read(typed: str | float) -> float:
    return read_length(typed, "width", low_mm=0.8, high_mm=40)


def refusal(typed: str | float, low_mm: float = 0.8, high_mm: float = 40) -> Refusal:
    with pytest.raises(Refused) as caught:
        read_length(typed, "width", low_mm=low_mm, high_mm=high_mm)
    (only,) = caught.value.refusals
    assert only.field == "width"
    return only


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("6", 6), (" 6 ", 6), (6, 6), (6.5, 6.5), ("6 mm", 6), ("6mm", 6), ("6 MM", 6), ("6.0", 6), ("6.", 6),
        ("6,5", 6.5), ("6,50", 6.5), ("6½", 6.5), ("6 1/2", 6.5), ("6 ½ mm", 6.5), ("1/4 in", 6.35),
        ("¼ in", 6.35), ("0.25 in", 6.35), (".25in", 6.35), ('0.25"', 6.35), ("0.25”", 6.35), ("0.25″", 6.35),
        ("0.25''", 6.35), ("0.25 inches", 6.35), ("0,25 in", 6.35), ("0.6 cm", 6), ("1.234", 1.234),
        ("６", 6), ("６．５", 6.5), ("６ｍｍ", 6), ("6\u00a0mm", 6), ("6 millimetres", 6), ("+6", 6),
    ],
)  # fmt: skip
def test_a_length_is_read_as_it_is_written_at_the_bench(typed: str | float, mm: float) -> None:
    assert read(typed) == pytest.approx(mm, abs=1e-12)


@pytest.mark.parametrize("typed", ["18 ga", "18ga", "18 gauge", "18 ga b&s", "18 B&S", "18 AWG"])
def test_a_gauge_number_is_brown_and_sharpe(typed: str) -> None:
    assert read(typed) == pytest.approx(1.0237, abs=5e-5)


@pytest.mark.parametrize(("typed", "number"), [("00 ga", -1), ("2/0 ga", -1), ("000 ga", -2), ("4/0 ga", -3)])
def test_the_thickest_gauges_are_written_in_noughts(typed: str, number: int) -> None:
    assert read(typed) == gauge_mm(number)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("", Why.EMPTY), ("   ", Why.EMPTY), ("\u3000", Why.EMPTY),
        ("0", Why.NOT_ABOVE_ZERO), ("-6", Why.NOT_ABOVE_ZERO), ("−6 mm", Why.NOT_ABOVE_ZERO),
        (0, Why.NOT_ABOVE_ZERO), (-1.5, Why.NOT_ABOVE_ZERO), ("0 in", Why.NOT_ABOVE_ZERO),
        ("0.5", Why.TOO_SMALL), ("60", Why.TOO_LARGE), ("9999999999999999", Why.TOO_LARGE),
        ("9" * 40, Why.TOO_LARGE), (1e308, Why.TOO_LARGE), (math.inf, Why.TOO_LARGE),
        (10**400, Why.TOO_LARGE),
        (-math.inf, Why.NOT_ABOVE_ZERO), (math.nan, Why.NOT_A_NUMBER), (True, Why.NOT_A_NUMBER),
        ("NaN", Why.NOT_A_NUMBER), ("1e309", Why.NOT_A_NUMBER), ("inf", Why.NOT_A_NUMBER),
        ("six", Why.NOT_A_NUMBER), ("1/0", Why.NOT_A_NUMBER), ("1 1/0", Why.NOT_A_NUMBER),
        ("1.2.3", Why.NOT_A_NUMBER), ("1.234,5", Why.NOT_A_NUMBER), ("/", Why.NOT_A_NUMBER),
        ("1,234", Why.AMBIGUOUS_COMMA), ("1,234 mm", Why.AMBIGUOUS_COMMA), ("1,234.5", Why.AMBIGUOUS_COMMA),
        ("0,125 in", Why.AMBIGUOUS_COMMA), ("１，２３４", Why.AMBIGUOUS_COMMA),
        ("6 ft", Why.UNKNOWN_UNIT), ("6 swq", Why.UNKNOWN_UNIT), ("6💍", Why.UNKNOWN_UNIT),
        ("💍", Why.NOT_A_NUMBER), ("<script>", Why.NOT_A_NUMBER), ("{{7*7}}", Why.NOT_A_NUMBER),
        ("18.5 ga", Why.NOT_A_NUMBER), ("180 ga", Why.NOT_A_NUMBER), ("٦", Why.NOT_A_NUMBER),
        ("6" * 10_000, Why.TOO_LONG), ("½" * 10_000, Why.TOO_LONG),
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_its_reason(typed: str | float, why: Why) -> None:
    assert refusal(typed).why is why


def test_a_refusal_quotes_no_more_than_can_be_read() -> None:
    assert len(refusal("6" * 10_000).typed) == 25


@pytest.mark.parametrize(
    ("typed", "low_mm", "high_mm", "meant"),
    [
        ("60", 0.8, 40, "6"), (60, 0.8, 40, "6"), ("60 mm", 0.8, 40, "6"), ("16", 0.3, 6, "1.6"),
        ("0.5", 0.8, 40, "5"), ("6 in", 0.8, 40, "6 mm"), ("900", 0.8, 40, ""), ("5 cm", 0.8, 40, ""),
    ],
)  # fmt: skip
def test_a_slip_of_the_decimal_point_is_asked_for(
    typed: str | float, low_mm: float, high_mm: float, meant: str
) -> None:
    refused = refusal(typed, low_mm, high_mm)
    assert (refused.suggestion, refused.low, refused.high, refused.unit) == (meant, low_mm, high_mm, "mm")


def test_a_fit_may_be_nothing_or_less() -> None:
    assert [read_length(typed, "fit_mm", low_mm=-5, high_mm=5) for typed in ("-0,5", "0", "+1.25", "−½")] == [
        -0.5, 0, 1.25, -0.5,
    ]  # fmt: skip
    assert refusal("-6", -5, 5).why is Why.TOO_SMALL


def test_a_percentage_is_read_with_or_without_its_sign() -> None:
    for typed in ("1.5", "1,5", "1½", "1.5 %", "1.5%", 1.5):
        assert read_number(typed, "stretch_percent", low=0, high=10, unit="%") == 1.5
    for typed, why in (
        ("", Why.EMPTY), ("x", Why.NOT_A_NUMBER), ("12", Why.TOO_LARGE), ("-1", Why.TOO_SMALL),
        ("1,500", Why.AMBIGUOUS_COMMA), (math.nan, Why.NOT_A_NUMBER),
    ):  # fmt: skip
        with pytest.raises(Refused) as caught:
            read_number(typed, "stretch_percent", low=0, high=10, unit="%")
        assert [(r.field, r.why) for r in caught.value.refusals] == [("stretch_percent", why)]


@pytest.mark.parametrize(
    ("mm", "text"), [(6.0, "6"), (1.6, "1.6"), (1.0237, "1.024"), (40, "40"), (0.25, "0.25")]
)
def test_a_field_shows_a_length_without_idle_zeros(mm: float, text: str) -> None:
    assert shown_length(mm) == text


def test_a_figure_is_said_without_idle_zeros() -> None:
    said = {6.0: "6", 1.5: "1.5", 3.25: "3.25", 10.0: "10", 0.0: "0", 2.0009: "2"}
    assert {value: figure_words(value) for value in said} == said
    assert [figure_words(1.0237, 3), figure_words(120.0, 0), figure_words(-0.5)] == ["1.024", "120", "-0.5"]


def test_the_book_keeps_whole_micrometres_and_milligrams() -> None:
    assert to_micrometres(55.625) == 55_625
    assert from_micrometres(55_625) == 55.625
    assert to_milligrams(9.1704) == 9_170
    assert from_milligrams(9_170) == 9.17


@pytest.mark.parametrize("typed", ["18 ga", "18 gauge", "00 awg"])
def test_what_is_no_stock_takes_no_gauge_number(typed: str) -> None:
    with pytest.raises(Refused) as caught:
        read_length(typed, "fit_mm", low_mm=-5, high_mm=5, gauge=None)
    assert [(r.field, r.why) for r in caught.value.refusals] == [("fit_mm", Why.NO_GAUGE)]
    assert read_length("0.2 mm", "fit_mm", low_mm=-5, high_mm=5, gauge=None) == 0.2
