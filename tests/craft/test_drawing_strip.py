"""The strip in rows and once it is squared: what is drawn stays within its frame."""

import re

import pytest

from studio.craft.drawing import Svg, blank_within, repeat_strip, squared_strip
from studio.craft.drawing.strip import Row, rows_of
from studio.craft.drawing.type_widths import text_width
from studio.craft.hallmark import HallmarkRule
from studio.craft.repeats import repeats_of
from studio.craft.strip_zones import has_struck_face, strip_zones
from tests.papers.test_printers import RINGS

_TEXT = re.compile(r'<text x="([\d.]+)" y="([\d.]+)" font-size="([\d.]+)"([^>]*)>([^<]+)</text>')


def words_outside(svg: Svg) -> list[str]:
    """The words that reach over the frame, which cuts them off."""
    found = []
    for x, y, size, more, words in _TEXT.findall(svg.markup):
        wide = text_width(words, float(size), 600 if "600" in more else 400)
        back = wide / 2 if "middle" in more else wide if '"end"' in more else 0.0
        left, right = float(x) - back, float(x) - back + wide
        if left < -0.05 or right > svg.width + 0.05 or float(y) > svg.height:
            found.append(words)
    return found


@pytest.mark.parametrize("room_mm", [60.0, 113.4, 126.0, 182.0])
@pytest.mark.parametrize("kind", RINGS)
def test_no_word_is_cut_off_and_no_drawing_wider_than_its_room(kind: str, room_mm: float) -> None:
    ring = RINGS[kind]
    reckoning = ring.reckoning
    zones = strip_zones(reckoning, ring.particulars, HallmarkRule.UK)
    squared = squared_strip(reckoning, zones, room_mm)
    repeated = repeat_strip(repeats_of(reckoning, 2.5), reckoning.design.width_mm, room_mm)
    assert (squared is None) == (not zones and not has_struck_face(reckoning))
    for svg in (blank_within(reckoning, room_mm), repeated, *([squared] if squared else [])):
        assert words_outside(svg) == []
        assert svg.width <= room_mm + 0.05


def test_rows_are_whole_tens_but_for_the_last() -> None:
    assert rows_of(121.0, 105.0) == (Row(0.0, 100.0), Row(100.0, 121.0))
    assert rows_of(100.0, 105.0) == (Row(0.0, 100.0),)
    assert [row.long for row in rows_of(121.0, 55.0)] == [50.0, 50.0, 21.0]


def test_marks_stand_opposite_the_seam_and_letters_keep_them_apart() -> None:
    (marks,) = strip_zones(RINGS["plain"].reckoning, RINGS["plain"].particulars, HallmarkRule.UK)
    assert marks.start_mm == pytest.approx(26.3, abs=0.05)
    assert marks.end_mm == pytest.approx(34.3, abs=0.05)
    letters, after = strip_zones(RINGS["letters"].reckoning, RINGS["letters"].particulars, HallmarkRule.UK)
    assert after.start_mm == pytest.approx(letters.end_mm + 2)
    assert strip_zones(RINGS["plain"].reckoning, RINGS["plain"].particulars, HallmarkRule.NONE) == ()
