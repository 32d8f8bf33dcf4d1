"""A length the app prints means the same when it is typed back, in every accepted spelling."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft import units
from studio.craft.errors import Refusal, Refused
from studio.craft.sheet_gauges import gauge_mm
from studio.craft.units import (
    MM_PER_CM,
    MM_PER_INCH,
    from_micrometres,
    read_length,
    shown_length,
    to_micrometres,
)

MICROMETRES = st.integers(1, 1_000_000)
FULL_WIDTH = str.maketrans("0123456789.", "０１２３４５６７８９．")


def read(typed: str | float) -> float:
    return read_length(typed, "width", low_mm=0.0005, high_mm=1100)


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


def words_for(*meant: str) -> list[str]:
    return sorted(word for word, unit in units._UNIT_WORDS.items() if unit in meant)


@pytest.mark.parametrize("word", words_for("", "mm", "cm", "in"))
def test_every_word_for_a_unit_reads_a_printed_length_back(word: str) -> None:
    factor = {"cm": MM_PER_CM, "in": MM_PER_INCH}.get(units._UNIT_WORDS[word], 1.0)

    @given(MICROMETRES)
    def law(micrometres: int) -> None:
        mm = from_micrometres(micrometres)
        typed = f"{mm / factor:.9f}"
        for spelt in (f"{typed} {word}", f"{typed}{word}", f"{typed} {word.upper()}", f"{typed}  {word} "):
            assert to_micrometres(read(spelt)) == micrometres
        assert to_micrometres(read(f"{typed.replace('.', ',')} {word}")) == micrometres

    law()


@pytest.mark.parametrize("word", words_for("ga", "bs"))
def test_every_word_for_a_gauge_means_the_same_gauge(word: str) -> None:
    for number in range(31):
        assert read(f"{number} {word}") == gauge_mm(number)
        assert read(f"{number}{word.upper()}") == gauge_mm(number)
    assert [read(f"{noughts} {word}") for noughts in ("00", "000", "0000")] == [
        gauge_mm(-1), gauge_mm(-2), gauge_mm(-3)
    ]  # fmt: skip


@given(st.integers(0, 40), st.sampled_from([2, 4, 8]), st.data())
def test_a_fraction_means_the_length_it_spells(whole: int, parts: int, data: st.DataObject) -> None:
    top = data.draw(st.integers(1, parts - 1))
    mm = whole + top / parts
    signs = {(1, 2): "½", (1, 4): "¼", (3, 4): "¾", (1, 8): "⅛", (3, 8): "⅜", (5, 8): "⅝", (7, 8): "⅞"}
    begin = f"{whole} " if whole else ""
    spelt = [f"{begin}{top}/{parts}", f"{begin}{top}⁄{parts}"]
    if (top, parts) in signs:
        spelt += [f"{whole or ''}{signs[top, parts]}", f"{begin}{signs[top, parts]}"]
    for typed in spelt:
        assert read(typed) == mm
        assert read(f"{typed} mm") == mm
        assert read(f"{typed} in") == pytest.approx(mm * MM_PER_INCH, rel=1e-12)
    assert read(shown_length(mm)) == mm


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
