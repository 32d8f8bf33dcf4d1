"""Sheets drawn for a printer: on its paper, and as much longer as it prints them short."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from studio.craft.designs import Pattern, Profile, System
from studio.craft.drawing.paper import BLANK_LINE_MM
from studio.craft.particulars import Inscription, Marks, Particulars
from studio.craft.printers import ROOMS, Drawn, PaperSize
from studio.craft.reckonings import Reckoning
from studio.papers.bench_sheet import RingToMake, bench_sheets
from studio.papers.check_sheet import check_sheet
from studio.papers.paper import Paper
from studio.papers.printing import printed
from studio.papers.repeat_sheet import RingToRepeat, repeat_sheet
from tests.builders import a_finger
from tests.papers.crossed import crossed
from tests.papers.drawn_lines import Stroke, strokes
from tests.papers.laid_out import out_of_page, overlapping
from tests.papers.printed import catalogue, lines_across, middles, pixels, reader, text_of
from tests.papers.sheets import SHEETS, a_reckoning, a_ring

LETTERS = Particulars(inscription=Inscription("Ada & Jon"), marks=Marks())
RINGS = {
    **SHEETS,
    **{f"{one}": a_ring(a_reckoning(one, None if one is Profile.ROUND else 2.0, 2.0)) for one in Profile},
    "letters": a_ring(a_reckoning(pattern=Pattern.HAMMERED), particulars=LETTERS),
    "rolled": a_ring(a_reckoning(pattern=Pattern.ROLLED), particulars=LETTERS),
    "smallest": a_ring(a_reckoning(width_mm=2.0, finger=a_finger("A", System.UK), pattern=Pattern.STAMPED)),
}
RINGS.pop(Profile.ROUND)
SHORT_MM, LONG_MM = 97.2, 103.0


def made_for(ring: RingToMake, drawn: Drawn) -> bytes:
    return printed(bench_sheets([replace(ring, drawn=drawn)], title="Bench sheet"))


@cache
def as_drawn(kind: str, size: PaperSize) -> bytes:
    """A sheet for a printer nobody measured, made once."""
    return made_for(RINGS[kind], Drawn("", size))


def near(found: list[Stroke], long_mm: float) -> list[Stroke]:
    return [one for one in found if abs(one.long - long_mm) < 0.05]


def outer(found: list[Stroke], length_mm: float, times: float) -> list[Stroke]:
    """The edges of a blank: lines inset by half their width, so that much shorter than what they measure."""
    return near([one for one in found if one.is_across], (length_mm - BLANK_LINE_MM) * times)


def is_within(found: list[Stroke], size: PaperSize) -> bool:
    room = ROOMS[size]
    return all(
        -0.1 <= x <= room.width_mm + 0.1 and -0.1 <= y <= room.height_mm + 0.1
        for one in found
        for x, y in ((one.x0, one.y0), (one.x1, one.y1))
    )


def on_one_row(reckoning: Reckoning, drawn: Drawn) -> bool:
    return reckoning.mark_mm + 24 < drawn.room_mm


@pytest.mark.parametrize("size", PaperSize)
@pytest.mark.parametrize("kind", RINGS)
def test_bars_and_blank_measure_true_on_every_paper(kind: str, size: PaperSize) -> None:
    reckoning = RINGS[kind].reckoning
    pdf = as_drawn(kind, size)
    found = strokes(pdf)
    assert near([one for one in found if one.is_across], 100.0)
    assert near([one for one in found if one.is_down and one.page == 0], 100.0)
    if on_one_row(reckoning, Drawn("", size)):
        assert outer(found, reckoning.mark_mm, 1.0)
    assert is_within(found, size)
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    box = reader(pdf).pages[0].mediabox
    assert float(box.width) * 25.4 / 72 == pytest.approx(ROOMS[size].width_mm, abs=0.1)
    assert float(box.height) * 25.4 / 72 == pytest.approx(ROOMS[size].height_mm, abs=0.1)
    assert catalogue(pdf)["/ViewerPreferences"]["/PrintScaling"] == "/None"


@pytest.mark.parametrize("size", PaperSize)
@pytest.mark.parametrize("kind", ["plain", "hammered-flat", "square-wire", "wide-band", "smallest"])
def test_a_usual_ring_is_whole_on_one_page_of_a4_and_letter_and_two_of_a5(kind: str, size: PaperSize) -> None:
    assert len(reader(made_for(RINGS[kind], Drawn("", size))).pages) <= (2 if size is PaperSize.A5 else 1)


@pytest.mark.parametrize("size", PaperSize)
@pytest.mark.parametrize("kind", ["plain", "letters", "longest-blank", "widest-band"])
def test_what_a_printer_makes_short_is_drawn_long_each_way_for_itself(kind: str, size: PaperSize) -> None:
    drawn = Drawn("Back room", size, SHORT_MM, LONG_MM)
    pdf = made_for(RINGS[kind], drawn)
    found = strokes(pdf)
    across = near([one for one in found if one.is_across], 100 * 100 / SHORT_MM)
    down = near([one for one in found if one.is_down], 100 * 100 / LONG_MM)
    assert across[0].long * SHORT_MM / 100 == pytest.approx(100, abs=0.1)
    assert down[0].long * LONG_MM / 100 == pytest.approx(100, abs=0.1)
    if on_one_row(RINGS[kind].reckoning, drawn):
        assert outer(found, RINGS[kind].reckoning.mark_mm, 100 / SHORT_MM)
    assert is_within(found, size)
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    assert "Drawn for Back room, print it there only" in text_of(pdf)


@pytest.mark.parametrize("mm", [90.0, 110.0])
def test_the_worst_printer_still_gets_a_whole_sheet(mm: float) -> None:
    for size in PaperSize:
        pdf = made_for(RINGS["longest-blank"], Drawn("Back room", size, mm, mm))
        assert is_within(strokes(pdf), size)
        assert out_of_page(pdf) == []


@pytest.mark.parametrize("size", PaperSize)
@pytest.mark.parametrize("given_mm", [100.0, SHORT_MM])
def test_the_bars_measure_a_hundred_on_the_raster(size: PaperSize, given_mm: float) -> None:
    dpi, ring = 600, RINGS["smallest"]
    ink = pixels(made_for(ring, Drawn("Back room", size, given_mm, given_mm)), dpi)
    long = 100 / given_mm * 100
    for turned, beyond_mm in ((ink, 4.5), (np.ascontiguousarray(ink.T), 1.5)):
        start, end, y = next(line for line in lines_across(turned, long + 0.25, 0.2, dpi=dpi))
        row = turned[round((y - beyond_mm) * dpi / 25.4)]
        ends = middles(row[round((start - 1) * dpi / 25.4) : round((end + 1) * dpi / 25.4)], dpi)
        assert (ends[-1] - ends[0]) * given_mm / 100 == pytest.approx(100, abs=0.1)


@pytest.mark.parametrize("size", PaperSize)
@pytest.mark.parametrize("kind", RINGS)
def test_no_word_is_crossed_by_a_line(kind: str, size: PaperSize) -> None:
    assert crossed(as_drawn(kind, size)) == []


def test_a_strip_longer_than_a5_goes_on_in_a_second_row() -> None:
    ring = RINGS["longest-blank"]
    pdf = made_for(ring, Drawn("", PaperSize.A5))
    assert "goes on" in text_of(pdf)
    cut_mm, mark_mm = 100.0, ring.reckoning.mark_mm
    across = [one for one in strokes(pdf) if one.is_across]
    assert near(across, cut_mm - BLANK_LINE_MM)
    assert near(across, mark_mm - cut_mm - BLANK_LINE_MM)
    assert "goes on" not in text_of(made_for(ring, Drawn()))


def test_the_squared_strip_says_what_stays_whole() -> None:
    told = text_of(made_for(RINGS["letters"], Drawn()))
    for words in ("no saw, file or wheel", "letters inside", "marks inside"):
        assert words in told
    plain = replace(RINGS["plain"], rule=RINGS["plain"].rule.NONE)
    assert "no saw" not in text_of(made_for(plain, Drawn()))
    found = strokes(made_for(RINGS["letters"], Drawn()))
    assert outer(found, RINGS["letters"].reckoning.true_length_mm, 1.0)


def papers(drawn: Drawn) -> list[Paper]:
    day = a_ring().printed_on
    told = RingToRepeat("2026-118", 1, RINGS["letters"].reckoning, 2.5)
    return [check_sheet(drawn, day), repeat_sheet(told, drawn, day)]


@pytest.mark.parametrize("size", PaperSize)
@pytest.mark.parametrize("mm", [90.0, SHORT_MM, 100.0, 110.0])
def test_check_sheet_and_strip_template_are_one_true_page(size: PaperSize, mm: float) -> None:
    for paper in papers(Drawn("Back room", size, mm, mm)):
        pdf = printed(paper)
        found = strokes(pdf)
        assert near([one for one in found if one.is_across], 10_000 / mm)
        assert near([one for one in found if one.is_down], 10_000 / mm)
        assert is_within(found, size)
        assert (out_of_page(pdf), overlapping(pdf)) == ([], [])
        assert len(reader(pdf).pages) == 1
        assert catalogue(pdf)["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_the_template_marks_every_repeat() -> None:
    pdf = printed(papers(Drawn())[1])
    assert "24 repeats" in text_of(pdf)
    assert text_of(pdf).count("seam") >= 2
