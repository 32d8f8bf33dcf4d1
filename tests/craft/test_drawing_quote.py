import re
from itertools import combinations

import pytest

from studio.craft.designs import WIRE_PROFILES, Pattern, PatternWhen, Profile
from studio.craft.drawing import Svg, quote_ring, quote_ring_scale, quote_section, quote_views
from tests.craft.drawn import (
    a_reckoning,
    breadth,
    corners,
    height,
    number,
    part,
    read,
    text_boxes,
    words,
)

RINGS = [
    a_reckoning(profile, *size, circumference_mm=around)
    for profile in Profile
    for size in (
        [(0.8, 0.8), (2, 2), (8, 8)] if profile in WIRE_PROFILES else [(0.8, 0.3), (6, 1.6), (2, 3), (40, 6)]
    )
    for around in (30.0, 55.625, 90.0)
]
TIMES = {"two": 2, "three": 3, "four": 4, "six": 6, "eight": 8, "ten": 10, "twelve": 12}
PAGE_MM = 162.0  # A4 less both margins


def a_worked_ring(pattern: Pattern, profile: Profile = Profile.FLAT) -> Svg:
    ring = a_reckoning(profile, pattern=pattern, pattern_when=PatternWhen.FLAT)
    return quote_ring(ring, 3.0)


def test_the_section_is_as_many_times_true_size_as_it_says() -> None:
    for ring in RINGS:
        root = read(quote_section(ring))
        said = next(line for line in words(root) if line.startswith("Section"))
        found = re.fullmatch(r"Section, (?:(\w+) times )?true size", said)
        assert found is not None
        times = TIMES[found[1]] if found[1] else 1
        section = part(root, "section")
        assert breadth(corners(section)) == pytest.approx(times * ring.design.width_mm, abs=0.02)
        assert height(corners(section)) == pytest.approx(times * ring.design.thickness_mm, abs=0.02)
        assert number(section, "data-mm-per-unit") == pytest.approx(1 / times, rel=1e-5)


def test_a_band_of_six_millimetres_stands_six_times_as_large() -> None:
    assert "Section, six times true size" in words(read(quote_section(a_reckoning())))
    assert "Section, twelve times true size" in words(read(quote_section(a_reckoning(Profile.ROUND, 1, 1))))
    assert "Section, true size" in words(read(quote_section(a_reckoning(width_mm=40))))


def test_a_section_carries_its_measures() -> None:
    for ring in RINGS:
        said = words(read(quote_section(ring)))
        wide, thick = f"{ring.design.width_mm:.2f}", f"{ring.design.thickness_mm:.2f}"
        if ring.design.profile is Profile.ROUND:
            assert said[1:] == [f"Ø {wide}"]
        else:
            assert sorted(said[1:]) == sorted([wide, thick])


def test_no_words_of_the_measured_drawings_run_out_or_into_one_another() -> None:
    for ring in RINGS:
        for drawn in (quote_section(ring), quote_views(ring), quote_views(ring, 0.0)):
            boxes = list(text_boxes(read(drawn)))
            for said, left, top, right, foot in boxes:
                assert left >= -0.01, said
                assert top >= -0.01, said
                assert right <= drawn.width + 0.01, said
                assert foot <= drawn.height + 0.01, said
            for (one, a, b, c, d), (other, e, f, g, h) in combinations(boxes, 2):
                assert c <= e or g <= a or d <= f or h <= b, (one, other, ring.design)
            assert drawn.width <= PAGE_MM


def test_front_and_side_are_true_to_the_outer_edges_of_their_lines() -> None:
    for ring in RINGS:
        root = read(quote_views(ring))
        line = number(part(root, "inside"), "stroke-width")
        side = corners(part(root, "side"))
        over_all = ring.diameter_mm + 2 * ring.design.thickness_mm
        assert root.get("width") == f"{float(root.get('viewBox', '').split()[2]):g}mm"
        assert 2 * number(part(root, "inside"), "r") - line == pytest.approx(ring.diameter_mm, abs=0.011)
        assert 2 * number(part(root, "outside"), "r") + line == pytest.approx(over_all, abs=0.021)
        assert breadth(side) + line == pytest.approx(ring.design.width_mm, abs=0.021)
        assert height(side) + line == pytest.approx(over_all, abs=0.021)


def test_the_inside_diameter_stands_beside_the_ring_or_below_it() -> None:
    ring = a_reckoning()
    assert words(read(quote_views(ring, 67.0))) == ["True size,", "Ø 17.7 inside"]
    assert words(read(quote_views(ring, 50.0))) == ["True size, Ø 17.7 inside"]
    assert quote_views(ring, 50.0).width <= 50.0
    assert quote_views(ring, 67.0).width <= 67.3


def test_the_lying_ring_fills_its_room_and_never_leaves_it() -> None:
    for ring in RINGS:
        drawn = quote_ring(ring, quote_ring_scale(ring, 63.0, 58.0))
        assert drawn.width <= 63.01
        assert drawn.height <= 58.01
        assert drawn.width > 62.9 or drawn.height > 57.9


def test_the_lying_ring_is_black_on_white_with_a_breath_of_grey() -> None:
    for pattern in (Pattern.HAMMERED, Pattern.STAMPED, Pattern.ROLLED):
        colours = set(re.findall(r"#[0-9A-Fa-f]{6}", a_worked_ring(pattern).markup))
        assert colours == {"#000000", "#FFFFFF", "#EFEFEF"}


def test_a_quotes_drawings_carry_attributes_and_no_styles() -> None:
    ring = a_reckoning()
    for drawn in (quote_ring(ring, 3.0), quote_section(ring), quote_views(ring)):
        assert "style" not in drawn.markup
        assert read(drawn).get("role") == "img"
        assert read(drawn).get("aria-label", "").endswith(".")
