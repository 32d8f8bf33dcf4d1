import math
from itertools import combinations

import pytest

from studio.craft.designs import WIRE_PROFILES, Pattern, PatternWhen, Profile
from studio.craft.drawing import NARROW_HEIGHT, SLIM_HEIGHT, WIDE_HEIGHT, Cut, counter_drawing
from studio.craft.profiles import section_mm2
from studio.craft.reckonings import Reckoning
from tests.craft.drawn import (
    SVG,
    a_reckoning,
    breadth,
    corners,
    enclosed,
    height,
    number,
    part,
    patterned,
    read,
    text_boxes,
    words,
)

SIZES = [(0.8, 0.3), (2, 6), (4, 1.7), (6, 1.6), (12, 2), (40, 1)]
ROUNDS = [30.0, 55.625, 90.0]
RINGS = [
    a_reckoning(profile, *size, circumference_mm=around)
    for profile in Profile
    for size in ([(0.8, 0.8), (2, 2), (8, 8)] if profile in WIRE_PROFILES else SIZES)
    for around in ROUNDS
]
PATTERNED = [
    a_reckoning(profile, *size, pattern=pattern, pattern_when=PatternWhen.FLAT)
    for profile in Profile
    for size in ([(1.5, 1.5), (6, 6)] if profile in WIRE_PROFILES else [(2, 1), (6, 1.6), (40, 1.2)])
    for pattern in Pattern
]


def measured(ring: Reckoning, cut: Cut) -> dict[str, float]:
    """Millimetres read back from the drawing."""
    root = read(counter_drawing(ring, cut))
    mm = number(root, "data-mm-per-unit")
    section = part(root, "section")
    section_mm = number(section, "data-mm-per-unit")
    cut_through, side, blank = corners(section), corners(part(root, "side")), part(root, "blank")
    return {
        "inside": 2 * number(part(root, "inside"), "r") * mm,
        "outside": height(side) * mm,
        "side": breadth(side) * mm,
        "width": breadth(cut_through) * section_mm,
        "thickness": height(cut_through) * section_mm,
        "area": enclosed(cut_through) * section_mm**2,
        "mark": number(blank, "width") * mm,
        "blank": number(blank, "height") * mm,
        "times": mm / section_mm,
    }


@pytest.mark.parametrize("cut", Cut)
def test_every_drawing_measures_what_the_figures_say(cut: Cut) -> None:
    for ring in RINGS:
        design, seen = ring.design, measured(ring, cut)
        wanted = {
            "inside": ring.diameter_mm,
            "outside": ring.diameter_mm + 2 * design.thickness_mm,
            "side": design.width_mm,
            "width": design.width_mm,
            "thickness": design.thickness_mm,
            "area": section_mm2(design.profile, design.width_mm, design.thickness_mm),
            "mark": ring.mark_mm,
            "blank": design.width_mm,
        }
        for name, value in wanted.items():
            assert seen[name] == pytest.approx(value, rel=0.005), (name, design)


@pytest.mark.parametrize("cut", Cut)
def test_the_section_is_three_times_as_large_and_otherwise_says_so(cut: Cut) -> None:
    for ring in RINGS:
        times = measured(ring, cut)["times"]
        root = read(counter_drawing(ring, cut))
        heading = next(said for said in words(root) if said.startswith("Section"))
        told = {3: ("three times", "3 times"), 2: ("twice", "2 times"), 1: ("same",)}[round(times)]
        assert times == pytest.approx(round(times), rel=0.001)
        assert any(way in heading for way in told), heading
        if ring.design.width_mm <= 12:
            assert round(times) == 3


def test_a_half_round_section_is_half_an_ellipse_and_no_rectangle() -> None:
    ring = a_reckoning(Profile.HALF_ROUND, 4, 1.7)
    area = measured(ring, Cut.WIDE)["area"]
    assert area == pytest.approx(math.pi / 4 * 4 * 1.7, rel=0.005)
    assert area < 0.8 * 4 * 1.7


def test_the_side_of_a_half_round_ring_shows_its_dome_above_and_below() -> None:
    ring = a_reckoning(Profile.HALF_ROUND, 4, 1.7)
    root = read(counter_drawing(ring, Cut.WIDE))
    places, mm = corners(part(root, "side")), number(root, "data-mm-per-unit")
    left = min(x for x, _ in places)
    edge = [y for x, y in places if x < left + 0.02]
    assert (max(edge) - min(edge)) * mm == pytest.approx(ring.diameter_mm, rel=0.005)
    assert height(places) * mm == pytest.approx(ring.diameter_mm + 3.4, rel=0.005)


def test_a_worked_face_keeps_width_and_full_thickness_and_nearly_all_its_metal() -> None:
    for ring in PATTERNED:
        design, seen = ring.design, measured(ring, Cut.WIDE)
        metal = section_mm2(design.profile, design.width_mm, design.thickness_mm)
        assert seen["width"] == pytest.approx(design.width_mm, rel=0.005)
        assert seen["thickness"] == pytest.approx(design.thickness_mm, rel=0.005)
        assert 0.955 * metal < seen["area"] < 1.005 * metal


@pytest.mark.parametrize("cut", Cut)
def test_every_figure_stands_within_the_drawing(cut: Cut) -> None:
    for ring in [*RINGS, *PATTERNED]:
        root = read(counter_drawing(ring, cut))
        for said, left, top, right, foot in text_boxes(root):
            assert left >= -0.5, said
            assert top >= 0, said
            assert right <= number(root, "width") + 0.5, (said, ring.design)
            assert foot <= number(root, "height"), (said, ring.design)


@pytest.mark.parametrize("cut", Cut)
def test_no_two_lines_of_words_lie_on_one_another(cut: Cut) -> None:
    for ring in [*RINGS, *PATTERNED]:
        boxes = list(text_boxes(read(counter_drawing(ring, cut))))
        for (said, a, b, c, d), (other, e, f, g, h) in combinations(boxes, 2):
            apart = c <= e + 0.5 or g <= a + 0.5 or d <= f + 1 or h <= b + 1
            assert apart, (said, other, ring.design, ring.circumference_mm)


@pytest.mark.parametrize(
    ("cut", "tall"), [(Cut.WIDE, WIDE_HEIGHT), (Cut.NARROW, NARROW_HEIGHT), (Cut.SLIM, SLIM_HEIGHT)]
)
def test_the_height_never_changes_while_a_figure_is_typed(cut: Cut, tall: float) -> None:
    assert {number(read(counter_drawing(ring, cut)), "height") for ring in RINGS} == {tall}


def test_the_key_figures_are_there_and_heavy() -> None:
    ring = patterned(Pattern.HAMMERED)
    root = read(counter_drawing(ring, Cut.WIDE))
    heavy = {element.text for element in root.iter(f"{SVG}text") if element.get("font-weight") == "600"}
    assert heavy == {f"Ø {ring.diameter_mm:.2f}", f"mark {ring.mark_mm:.1f}"}
    assert {"6", "6.00", "1.60", "worked face", "inside 55.6 round"} <= set(words(root))


def test_the_broken_lines_stand_half_the_trim_from_each_end() -> None:
    ring = a_reckoning()
    root = read(counter_drawing(ring, Cut.WIDE))
    mm, blank = number(root, "data-mm-per-unit"), part(root, "blank")
    broken = [e for e in root.iter(f"{SVG}path") if e.get("stroke-dasharray") == "6 3"]
    starts = [float(place.split(" ")[0]) for place in broken[0].get("d", "").split("M")[1:]]
    assert (starts[1] - starts[0]) * mm == pytest.approx(ring.flat_length_mm, rel=0.005)
    assert (starts[0] - number(blank, "x")) * mm == pytest.approx(ring.trim_mm / 2, abs=0.01)


def test_the_rule_has_its_zero_at_the_end_of_the_blank_and_a_number_every_ten_mm() -> None:
    ring = a_reckoning()
    root = read(counter_drawing(ring, Cut.WIDE))
    mm, blank = number(root, "data-mm-per-unit"), part(root, "blank")
    numbered = {e.text: number(e, "x") - 4 for e in root.iter(f"{SVG}text") if (e.text or "").isdigit()}
    assert set(numbered) >= {"0", "10", "20", "30", "40", "50", "60"}
    assert numbered["0"] == pytest.approx(number(blank, "x"), abs=0.01)
    assert (numbered["50"] - numbered["0"]) * mm == pytest.approx(50, rel=0.001)


def test_a_waiting_drawing_shows_the_last_ring_in_thin_lines_only() -> None:
    root = read(counter_drawing(patterned(Pattern.HAMMERED), Cut.WIDE, is_waiting=True))
    assert {number(e, "stroke-width") for e in root.iter() if e.get("data-part")} == {1}
    assert {e.get("data-part") for e in root.iter()} == {None, "inside", "outside", "side"}
    assert "Side, as last drawn, 6 mm" in words(root)
    assert root.get("aria-label", "").startswith("Waiting.")
    assert "#F0EADF" not in {e.get("fill") for e in root.iter()}


def test_the_drawing_tells_in_a_sentence_what_it_shows() -> None:
    root = read(counter_drawing(patterned(Pattern.HAMMERED), Cut.NARROW))
    assert root.get("role") == "img"
    assert root.get("aria-label") == (
        "The ring drawn to scale: flat, 6 mm wide, 1.6 mm thick, hammered, 17.71 mm inside;"
        " its blank is marked at 61.3 mm."
    )


def test_drawing_a_ring_again_gives_the_same_drawing() -> None:
    ring = patterned(Pattern.HAMMERED)
    assert counter_drawing(ring, Cut.WIDE) == counter_drawing(ring, Cut.WIDE)
