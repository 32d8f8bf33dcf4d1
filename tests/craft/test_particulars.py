"""What a ring is beyond its metal: its finish, its inscription and the room that has."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from studio.craft.inscriptions import letters_of, room_of
from studio.craft.particulars import (
    NOT_ASKED,
    Face,
    Inscription,
    Particulars,
    Surface,
    finish_words,
)
from studio.craft.reckonings import Reckoning, reckon
from studio.craft.route import route
from tests.builders import a_design, a_finger


def a_reckoning(**design: object) -> Reckoning:
    return reckon(a_finger(), a_design(**design))


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (NOT_ASKED, ""),
        (Particulars(Surface.POLISHED, Surface.POLISHED), "polished inside and outside"),
        (Particulars(Surface.POLISHED, Surface.MATT), "polished inside, matt outside"),
        (Particulars(outside=Surface.OXIDISED), "oxidised outside"),
    ],
)
def test_a_finish_is_said_face_by_face_and_once_where_both_are_alike(told: Particulars, words: str) -> None:
    assert finish_words(told) == words


@pytest.mark.parametrize(
    ("text", "signs"),
    [
        ("Ada", ("A", "d", "a")),
        ("ne\N{COMBINING ACUTE ACCENT}e", ("n", "e\N{COMBINING ACUTE ACCENT}", "e")),
        ("à & é", ("à", " ", "&", " ", "é")),
        ("שָׁלוֹם", ("שָׁ", "ל", "וֹ", "ם")),
        ("", ()),
    ],
)
def test_an_inscription_is_counted_as_it_is_read(text: str, signs: tuple[str, ...]) -> None:
    assert letters_of(text) == signs


@given(st.text())
def test_the_signs_of_an_inscription_are_the_whole_of_it(text: str) -> None:
    assert "".join(letters_of(text)) == text


def test_an_inscription_takes_its_letters_and_has_the_inside_less_the_marks() -> None:
    """Worked by hand (common practice, no source): 7 letters x 0.75 x 2 + 2 spaces x 0.4 x 2 = 12.1."""
    found = a_reckoning()
    room = room_of(Inscription("Ada & Jon"), found)
    assert (room.letters, room.letter_mm) == (7, 2.0)
    assert math.isclose(room.takes_mm, 12.1)
    assert math.isclose(room.has_mm, found.circumference_mm - 8)
    assert not room.is_too_long
    outside = room_of(Inscription("Ada & Jon", Face.OUTSIDE), found)
    assert math.isclose(outside.has_mm, found.circumference_mm + 2 * math.pi * 1.6)


def test_too_many_letters_are_too_long_and_a_narrow_ring_is_hard_to_read() -> None:
    found = a_reckoning(width_mm=2.5, thickness_mm=1.5)
    room = room_of(Inscription("x" * 80), found)
    assert room.letter_mm == 1.25, "half the width, where no height is given"
    assert room.is_too_long
    assert room.is_narrow
    assert not room_of(Inscription("x", letter_mm=2.0), a_reckoning()).is_narrow


def test_letters_are_cut_once_the_size_is_right_and_before_the_finish() -> None:
    told = Particulars(Surface.POLISHED, Surface.OXIDISED, Inscription("Ada"))
    steps = [step.key for step in route(a_reckoning(), told)]
    assert steps.index("size") < steps.index("inscribe") < steps.index("finish")
    assert "inscribe" not in [step.key for step in route(a_reckoning())]


def test_the_bench_finishes_as_was_agreed_and_heeds_what_the_finish_needs() -> None:
    told = Particulars(Surface.POLISHED, Surface.OXIDISED, Inscription("Ada"))
    (finish,) = [step for step in route(a_reckoning(), told) if step.key == "finish"]
    assert finish.text == "Polished inside, oxidised outside; the face by hand."
    assert finish.caution is not None
    assert "No wheel on the pattern" in finish.caution
    assert "gloves, extraction on" in finish.caution
