"""The proof of an inscription: once round at true size, its words in the length they take, to be signed."""

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from itertools import pairwise
from typing import Any

import httpx
import numpy as np
import pytest
from sqlalchemy import Engine

from studio.book.engine import session
from studio.book.order_values import CustomerDraft, Order
from studio.craft.designs import System
from studio.craft.drawing.inscription import CUT_MM, SIDE_MM
from studio.craft.orders import State
from studio.craft.particulars import Face, Inscription, Lettering, Particulars
from studio.craft.roles import Role
from studio.papers.inscription_proof import InscriptionToProve, inscription_proof, proof_page
from studio.papers.printing import printed
from studio.papers.true_letters import CAPITAL
from tests.builders import a_finger, a_ring, an_order, one_step
from tests.long_texts import Writer, unbroken, worded
from tests.papers.laid_out import glyphs, out_of_page, overlapping, pages_of
from tests.papers.printed import PIXEL_MM, pixels, reader, text_of
from tests.papers.sheets import a_reckoning
from tests.papers.stroked import MM_IN_A_POINT, Line, strokes

ApiAs = Callable[[Role], httpx.Client]
WITHIN_MM = 0.05
TOLD = InscriptionToProve(
    number="2026-118",
    version=3,
    position=1,
    count=2,
    customer="Ines Radley",
    inscription=Inscription("Ada & Jon", is_read_back=True),
    reckoning=a_reckoning(),
    printed_on=date(2026, 11, 30),
)
WRITERS: dict[str, Writer] = {
    "latin": unbroken("latin"),
    "greek": worded("greek"),
    "hebrew": worded("hebrew"),
    "arabic": unbroken("arabic"),
    "arabic-words": worded("arabic"),
    "devanagari": worded("devanagari"),
    "thai": unbroken("thai"),
    "broad": lambda longest: "W" * longest,
    "slim": lambda longest: "i" * longest,
}


def proof(text: str = "", **changes: Any) -> bytes:
    """The paper of an inscription; `changes` are of it, but for the reckoning's."""
    reckoning = changes.pop("reckoning", TOLD.reckoning)
    words = replace(TOLD.inscription, text=text or TOLD.inscription.text, **changes)
    return printed(inscription_proof(replace(TOLD, inscription=words, reckoning=reckoning)))


def strips(pdf: bytes) -> list[Line]:
    """The outer edges of every row of the strip."""
    return [
        (left - one.pen_mm / 2, top - one.pen_mm / 2, right + one.pen_mm / 2, foot + one.pen_mm / 2)
        for one in strokes(pdf)
        for left, top, right, foot in one.boxes
    ]


@pytest.mark.parametrize("face", Face)
@pytest.mark.parametrize("size", ["41", "55", "76"])
def test_the_strip_is_once_round_the_face_and_as_wide_as_the_ring(face: Face, size: str) -> None:
    ring = a_reckoning(width_mm=4.5, thickness_mm=1.9, finger=a_finger(size, System.ISO))
    ((left, top, right, foot),) = strips(proof(face=face, reckoning=ring))
    outside = ring.circumference_mm + 2 * math.pi * 1.9
    assert right - left == pytest.approx(
        ring.circumference_mm if face is Face.INSIDE else outside, abs=WITHIN_MM
    )
    assert foot - top == pytest.approx(4.5, abs=WITHIN_MM)


def test_the_longest_way_round_that_can_be_made_lies_in_one_row() -> None:
    ring = a_reckoning(thickness_mm=6.0, width_mm=8.0, finger=a_finger("90", System.ISO), fit_mm=5.0)
    ((left, _, right, _),) = strips(proof(face=Face.OUTSIDE, reckoning=ring))
    assert right - left == pytest.approx(95 + 12 * math.pi, abs=WITHIN_MM)


def test_the_bar_measures_a_hundred_millimetres() -> None:
    (bar,) = (one for one in strokes(proof()) if len(one.lines) > 10)
    ticks = sorted(x for x, _, end, _ in bar.lines if x == pytest.approx(end))
    assert ticks[-1] - ticks[0] == pytest.approx(100.0, abs=WITHIN_MM)
    assert len({round(after - before, 2) for before, after in pairwise(ticks[1:])}) == 1


@pytest.mark.parametrize("letter_mm", [1.0, 2.0, 3.0])
def test_capitals_are_as_high_as_they_are_cut_and_stand_in_the_middle(letter_mm: float) -> None:
    pdf = proof("HHH", letter_mm=letter_mm)
    ((left, top, right, foot),) = strips(pdf)
    inside = pixels(pdf)[
        round((top + 0.5) / PIXEL_MM) : round((foot - 0.5) / PIXEL_MM),
        round((left + 0.5) / PIXEL_MM) : round((left + 45) / PIXEL_MM),
    ]
    assert right - left > 50
    rows = np.flatnonzero(inside.max(axis=1) > 0.5)
    high = (rows[-1] - rows[0] + 1) * PIXEL_MM
    middle = top + 0.5 + (rows[0] + rows[-1] + 1) / 2 * PIXEL_MM
    assert high == pytest.approx(letter_mm, abs=0.12)
    assert middle == pytest.approx((top + foot) / 2, abs=0.1)


def test_words_stand_in_the_middle_of_their_room() -> None:
    (row,) = proof_page(TOLD).rows
    room = TOLD.reckoning.circumference_mm - 8
    assert row.words.beside_mm == pytest.approx(SIDE_MM + (room - 12.1) / 2)
    assert row.words.size_mm == pytest.approx(2.0 / CAPITAL)
    assert row.words.base_line_mm == pytest.approx(CUT_MM + 6.0 / 2 + 1.0)


@pytest.mark.parametrize("text", ["iiiiii", "Ada & Jon", "WWWWWWWWWW", "MAMMA WOWMOM"])
def test_letters_take_no_more_than_is_reckoned_and_are_never_stretched(text: str) -> None:
    told = replace(TOLD, inscription=Inscription(text))
    (row,) = proof_page(told).rows
    assert row.words.narrowed <= 1.0
    takes_mm = 2.0 * sum(0.4 if sign == " " else 0.75 for sign in text)
    pdf = printed(inscription_proof(told))
    found = first_line(pdf, text.split(maxsplit=1)[0], text.rsplit(maxsplit=1)[-1])
    assert found[1] - found[0] <= takes_mm + 0.1


def first_line(pdf: bytes, *words: str) -> tuple[float, float]:
    """From where to where the words of the strip reach, in mm."""
    _, _, told, boxes = next(pages_of(pdf))
    places = [told.index(word) for word in words]
    return float(boxes[places, 0].min()) * MM_IN_A_POINT, float(boxes[places, 2].max()) * MM_IN_A_POINT


@pytest.mark.parametrize("text", ["שרה ודן", "محمد وسارة"])
def test_words_from_the_right_begin_at_the_right(text: str) -> None:
    pdf = proof(text)
    ((left, _, right, _),) = strips(pdf)
    assert right == pytest.approx(210 - 14 - SIDE_MM, abs=WITHIN_MM)
    page = proof_page(replace(TOLD, inscription=Inscription(text)))
    assert page.direction == "rtl"
    first, last = (word[::-1] for word in text.split())  # as they stand from left to right
    assert first_line(pdf, first)[0] > first_line(pdf, last)[1]
    start, end = first_line(pdf, last, first)
    (row,) = page.rows
    assert left < start < end < right
    assert right - end == pytest.approx(row.words.beside_mm - SIDE_MM, abs=0.4)
    signs = [sign.sign for sign in page.signs if not sign.is_space]
    _, _, words, boxes = next(pages_of(pdf))
    placed = [float(boxes[words.index(sign)][0]) for sign in signs if words.count(sign) == 1]
    assert len(placed) >= 4
    assert placed == sorted(placed, reverse=True)


@pytest.mark.parametrize("letter_mm", [1.5, 6.0])
@pytest.mark.parametrize("script", WRITERS)
def test_the_longest_texts_neither_overlap_nor_fall_off(script: str, letter_mm: float) -> None:
    text = WRITERS[script](120)
    pdf = proof(text, letter_mm=letter_mm, reckoning=a_reckoning(width_mm=12.0, finger=wide_gauge()))
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    assert 0 not in set(glyphs(pdf))
    rows = strips(pdf)
    assert sum(right - left for left, _, right, _ in rows) == pytest.approx(
        a_reckoning(width_mm=12.0, finger=wide_gauge()).circumference_mm, abs=WITHIN_MM
    )
    for one in strokes(pdf):
        for left, _, right, _ in (*one.boxes, *one.lines):
            assert min(left, right) > 13
            assert max(left, right) < 197
    assert "more than once round" in text_of(pdf)
    assert "Too long" in text_of(pdf)


def wide_gauge() -> Any:
    return a_finger("O½", gauge_width_mm=12.0)


def test_rows_that_go_on_have_their_cut_marked() -> None:
    pdf = proof("W" * 100, letter_mm=6.0)
    zigzags = [
        one for one in strokes(pdf) if len(one.lines) == 4 and one.pen_mm == pytest.approx(0.35, abs=0.01)
    ]
    rows = proof_page(replace(TOLD, inscription=Inscription("W" * 100, letter_mm=6.0))).rows
    assert len(rows) == 3
    assert len(zigzags) == 4
    assert "Row 1 of 3" in text_of(pdf)
    assert "goes on in the next row" in text_of(pdf)


def test_it_is_spelt_sign_by_sign_with_what_it_has_and_takes_and_a_line_to_sign() -> None:
    pdf = proof()
    words = text_of(pdf)
    for told in (
        "2026-118", "Ines Radley, ring 1 of 2", "47.6", "12.1", "mm, less 8 for the marks",
        "A 1 d 2 a 3 space 4 & 5 space 6 J 7 o 8 n 9", "Read sign by sign, and to be cut so",
        "Measures 100 mm across?", "2026-118, ring 1 of 2, version 3, Mon 30 Nov 2026, page 1 of 1",
        "7 letters, 2 mm high, about 12 mm of the 48 there are.",
    ):  # fmt: skip
        assert told in words, told
    assert "Not read back yet" not in words
    assert "Not read back yet" in text_of(proof(is_read_back=False))


@pytest.mark.parametrize(
    ("lettering", "words"),
    [
        (Lettering.ROMAN, "cut in roman letters"),
        (Lettering.SCRIPT, "cut in script"),
        (Lettering.CAPITALS, "cut in capitals"),
        (Lettering.OWN_HAND, "own hand, as drawn"),
    ],
)
def test_how_it_is_cut_is_told_since_it_is_set_in_type(lettering: Lettering, words: str) -> None:
    assert words in text_of(proof(lettering=lettering))


def test_what_no_font_has_is_stood_in_for_and_markup_is_only_text() -> None:
    pdf = proof("<b>&amp;</b>\U0001fae8")
    assert 0 not in set(glyphs(pdf))
    assert "<b>&amp;</b>" in text_of(pdf)


def written(engine: Engine, words: Inscription | None, **facts: Any) -> Order:
    told = Particulars(inscription=words)
    with session(engine) as book:
        return an_order(book, rings=[a_ring(), a_ring(particulars=told)], **facts)


@pytest.mark.parametrize("role", list(Role))
@pytest.mark.parametrize("state", [State.DRAFT, State.AT_THE_BENCH])
def test_it_is_printed_from_the_draft_on_by_whoever_prints_bench_sheets(
    engine: Engine, api_as: ApiAs, role: Role, state: State
) -> None:
    customer = CustomerDraft("Jorun Müller", "01632 960 411", "jorun@mueller.example")
    words_to_cut = Inscription("Ada & Jon", is_read_back=True)
    order = written(engine, words_to_cut, state=state, customer=customer)
    answer = api_as(role).get(f"/orders/{order.number}/rings/2/inscription.pdf")
    assert answer.status_code == 200
    named = f'inline; filename="inscription-{order.number}-2.pdf"'
    assert answer.headers["content-disposition"] == named
    words = text_of(answer.content)
    assert "Jorun Müller, ring 2 of 2" in words
    assert "01632" not in words
    assert "mueller" not in words
    information = reader(answer.content).metadata
    assert information is not None
    assert information.title == f"Inscription {order.number}, ring 2"


def test_there_is_none_without_words_or_a_ring_or_when_it_is_called_off(
    engine: Engine, api: httpx.Client
) -> None:
    order = written(engine, Inscription("Ada & Jon"))
    without = api.get(f"/orders/{order.number}/rings/1/inscription.pdf")
    assert without.status_code == 409
    assert without.json()["errors"][0]["message"] == f"Ring 1 of {order.number} has no inscription."
    assert api.get(f"/orders/{order.number}/rings/3/inscription.pdf").status_code == 404
    assert api.get("/orders/2026-999/rings/1/inscription.pdf").status_code == 404
    assert api.get(f"/orders/{order.number}/rings/one/inscription.pdf").status_code in {404, 422}
    none_wanted = written(engine, Inscription(""))
    assert api.get(f"/orders/{none_wanted.number}/rings/2/inscription.pdf").status_code == 409
    with session(engine) as book:
        one_step(book, order, State.CALLED_OFF)
    off = api.get(f"/orders/{order.number}/rings/2/inscription.pdf")
    assert off.status_code == 409
    assert "called off" in off.json()["errors"][0]["message"]
