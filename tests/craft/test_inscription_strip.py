"""An inscription along the way round: every sign has its place, and rows lose nothing."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest

from studio.craft.directions import runs_from_right
from studio.craft.inscription_strip import strip_rows
from studio.craft.inscriptions import letters_of, room_of
from studio.craft.particulars import Face, Inscription
from tests.long_texts import LETTERS, Writer, unbroken, worded
from tests.papers.sheets import a_reckoning

PAGE_MM = 176.0


def test_words_that_fit_lie_in_one_row_as_long_as_once_round() -> None:
    room = room_of(Inscription("Ada & Jon"), a_reckoning())
    (row,) = strip_rows("Ada & Jon", room, PAGE_MM)
    assert (row.from_mm, row.to_mm, row.ring_mm) == (0.0, room.round_mm, room.round_mm)
    assert row.words == "Ada & Jon"
    assert row.words_to_mm == pytest.approx(12.1)
    assert (row.is_cut_before, row.is_cut_after) == (False, False)


@pytest.mark.parametrize("face", Face)
def test_once_round_is_that_of_the_face(face: Face) -> None:
    found = a_reckoning()
    room = room_of(Inscription("x", face), found)
    outside = found.circumference_mm + 2 * 3.141592653589793 * found.design.thickness_mm
    assert room.round_mm == pytest.approx(found.circumference_mm if face is Face.INSIDE else outside)


@pytest.mark.parametrize("script", LETTERS)
@pytest.mark.parametrize("write", [unbroken, worded])
@pytest.mark.parametrize("longest_mm", [30.0, PAGE_MM])
def test_rows_hold_every_sign_once_and_the_whole_way_round(
    script: str, write: Callable[[str], Writer], longest_mm: float
) -> None:
    text = write(script)(120)
    room = room_of(Inscription(text, letter_mm=3.0), a_reckoning())
    rows = strip_rows(text, room, longest_mm)
    assert "".join(row.words for row in rows) == text
    assert [sign for row in rows for sign in letters_of(row.words)] == list(letters_of(text))
    assert sum(row.ring_mm for row in rows) == pytest.approx(room.round_mm)
    assert rows[0].from_mm == 0.0
    assert rows[-1].to_mm == pytest.approx(max(room.round_mm, room.takes_mm))
    for before, after in pairwise(rows):
        assert before.to_mm == after.from_mm
        assert before.is_cut_after
        assert after.is_cut_before
    assert all(row.to_mm - row.from_mm <= longest_mm + 1e-9 for row in rows)
    assert all(row.from_mm == row.words_from_mm <= row.words_to_mm <= row.to_mm + 1e-9 for row in rows)


def test_a_strip_longer_than_the_page_goes_on_in_further_rows_without_words() -> None:
    room = replace(room_of(Inscription("Ada"), a_reckoning()), round_mm=400.0)
    rows = strip_rows("Ada", room, PAGE_MM)
    assert [row.words for row in rows] == ["Ada", "", ""]
    assert [row.ring_mm for row in rows] == [176.0, 176.0, 48.0]
    assert [(row.is_cut_before, row.is_cut_after) for row in rows] == [
        (False, True),
        (True, True),
        (True, False),
    ]


def test_a_row_ends_before_a_word_rather_than_in_it() -> None:
    text = "the long way round and back again"
    room = room_of(Inscription(text, letter_mm=3.0), a_reckoning())
    rows = strip_rows(text, room, 30.0)
    assert [row.words for row in rows] == ["the long way ", "round and ", "back again"]


@pytest.mark.parametrize(
    ("words", "is_from_right"),
    [("Ada", False), ("שרה", True), ("12 محمد", True), ("12.", False), ("Ada שרה", False), ("", False)],
)
def test_the_first_letter_says_from_where_words_run(words: str, is_from_right: bool) -> None:  # noqa: FBT001  a row of the table
    assert runs_from_right(words) is is_from_right
