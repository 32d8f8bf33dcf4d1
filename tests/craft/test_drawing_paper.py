import re
from itertools import pairwise

import pytest

from studio.craft.designs import WIRE_PROFILES, Pattern, PatternWhen, Profile
from studio.craft.drawing import (
    Svg,
    check_bar_across,
    check_bar_down,
    sheet_blank,
    sheet_section,
    sheet_views,
    warning_triangle,
)
from tests.craft.drawn import (
    a_reckoning,
    breadth,
    corners,
    height,
    number,
    part,
    patterned,
    read,
    text_boxes,
    words,
)

RINGS = [
    a_reckoning(profile, *size, circumference_mm=around)
    for profile in Profile
    for size in ([(0.8, 0.8), (8, 8)] if profile in WIRE_PROFILES else [(0.8, 0.3), (6, 1.6), (40, 6)])
    for around in (30.0, 55.625, 90.0)
]


def millimetres(svg: Svg) -> float:
    """Millimetres a unit of the drawing: its printed width by the width of its view box."""
    root = read(svg)
    printed = re.fullmatch(r"([\d.]+)mm", root.get("width", ""))
    assert printed is not None
    assert root.get("height", "").endswith("mm")
    return float(printed[1]) / float(root.get("viewBox", "").split()[2])


def test_the_outer_edge_of_the_printed_blank_is_the_mark() -> None:
    for ring in RINGS:
        drawn = sheet_blank(ring)
        blank = part(read(drawn), "blank")
        line = number(blank, "stroke-width")
        assert millimetres(drawn) == 1
        assert line == 0.25
        assert number(blank, "width") + line == pytest.approx(ring.mark_mm, abs=0.011)
        assert number(blank, "height") + line == pytest.approx(ring.design.width_mm, abs=0.011)


def test_the_printed_ring_is_true_to_the_outer_edges_of_its_lines() -> None:
    for ring in RINGS:
        drawn = sheet_views(ring)
        root = read(drawn)
        line = number(part(root, "inside"), "stroke-width")
        side = corners(part(root, "side"))
        over_all = ring.diameter_mm + 2 * ring.design.thickness_mm
        assert millimetres(drawn) == 1
        assert 2 * number(part(root, "inside"), "r") - line == pytest.approx(ring.diameter_mm, abs=0.011)
        assert 2 * number(part(root, "outside"), "r") + line == pytest.approx(over_all, abs=0.021)
        assert breadth(side) + line == pytest.approx(ring.design.width_mm, abs=0.021)
        assert height(side) + line == pytest.approx(over_all, abs=0.021)


def test_the_printed_section_says_how_much_larger_it_is() -> None:
    for ring in RINGS:
        drawn = sheet_section(ring)
        section = part(read(drawn), "section")
        times = breadth(corners(section)) / ring.design.width_mm
        told = {3: "three times as large", 2: "twice as large", 1: "true size"}[round(times)]
        assert times == pytest.approx(round(times), rel=0.005)
        assert any(told in said for said in words(read(drawn)))
        assert drawn.width <= 62


@pytest.mark.parametrize(
    ("profile", "thickness_mm", "told"),
    [
        (Profile.ROUND, 2.0, "Ø 2, three times as large"),
        (Profile.SQUARE, 2.0, "2 × 2, three times as large"),
        (Profile.COURT, 1.5, "2 × 1.5, three times as large"),
    ],
)
def test_the_printed_section_of_round_wire_is_told_by_its_diameter(
    profile: Profile, thickness_mm: float, told: str
) -> None:
    drawn = sheet_section(a_reckoning(profile, 2.0, thickness_mm))
    assert told in words(read(drawn))
    assert read(drawn).get("aria-label") == f"The section, {told}."


def test_before_the_pattern_the_ends_stand_at_the_mark_less_the_trim() -> None:
    ring = patterned(Pattern.HAMMERED)
    root = read(sheet_blank(ring))
    broken = next(e.get("d", "") for e in root.iter() if e.get("stroke-dasharray") == "1.5 0.75")
    left, right = (float(place.split()[0]) for place in broken.split("M")[1:])
    assert right - left == pytest.approx(ring.flat_length_mm, abs=0.011)
    assert right - left < ring.true_length_mm


@pytest.mark.parametrize(
    ("pattern", "when", "told"),
    [
        (Pattern.HAMMERED, PatternWhen.FLAT, ["hammer this face"]),
        (Pattern.STAMPED, PatternWhen.FLAT, ["stamp this face"]),
        (Pattern.ROLLED, PatternWhen.FLAT, ["rolled face up"]),
        (Pattern.HAMMERED, PatternWhen.CLOSED, []),
        (Pattern.PLAIN, None, []),
    ],
)
def test_the_face_to_work_is_named_where_it_is_worked_flat(
    pattern: Pattern, when: PatternWhen | None, told: list[str]
) -> None:
    ring = a_reckoning(pattern=pattern, pattern_when=when)
    faces = [said for said in words(read(sheet_blank(ring))) if "face" in said]
    assert faces == told


def test_the_check_bars_are_a_hundred_millimetres_from_tick_middle_to_tick_middle() -> None:
    for drawn, moves in ((check_bar_across(), r"M([\d.]+) 5v"), (check_bar_down(), r"M[\d.]+ ([\d.]+)h")):
        ticks = [float(at) for at in re.findall(moves, part(read(drawn), "check").get("d", ""))]
        assert millimetres(drawn) == 1
        assert ticks[-1] - ticks[0] == pytest.approx(100, abs=1e-9)
        assert [round(b - a, 6) for a, b in pairwise(ticks)] == [10] * 10


def test_paper_is_black_on_white() -> None:
    papers = [sheet_blank, sheet_views, sheet_section]
    drawn = [paper(patterned(Pattern.STAMPED)) for paper in papers]
    colours = {
        value
        for svg in [*drawn, check_bar_across(), check_bar_down(), warning_triangle()]
        for element in read(svg).iter()
        for name in ("fill", "stroke")
        if (value := element.get(name))
    }
    assert colours == {"none", "#000000", "#FFFFFF"}


def test_every_word_on_paper_stands_within_its_drawing_and_is_eleven_points_at_least() -> None:
    for ring in [*RINGS, patterned(Pattern.HAMMERED), patterned(Pattern.STAMPED, width_mm=40.0)]:
        for drawn in (sheet_blank(ring), sheet_views(ring), sheet_section(ring)):
            root = read(drawn)
            for said, left, top, right, foot in text_boxes(root):
                assert left >= -0.1, said
                assert top >= 0, said
                assert right <= drawn.width + 0.1, said
                assert foot <= drawn.height, said
            assert all(number(e, "font-size") >= 11 * 25.4 / 72 - 0.005 for e in root.iter() if e.text)
