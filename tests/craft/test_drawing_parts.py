"""What every drawing keeps to, and the small ones: icons, marks, the ring on the table."""

import re
from collections.abc import Callable
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

import pytest

from studio.craft.designs import Pattern, PatternWhen, Profile
from studio.craft.drawing import (
    Cut,
    Svg,
    caret,
    check_bar_across,
    check_bar_down,
    chevron,
    counter_drawing,
    first_day_ring,
    lying_ring,
    ring_thumb,
    section_icon,
    section_small,
    sheet_blank,
    sheet_section,
    sheet_views,
    state_mark,
    warning_triangle,
)
from studio.craft.drawing.facets import strokes
from studio.craft.drawing.outlines import section
from studio.craft.drawing.svg import element, text
from studio.craft.drawing.type_widths import first_that_fits, text_width
from studio.craft.orders import State
from studio.craft.profiles import outline, section_mm2
from studio.craft.reckonings import Reckoning
from tests.craft.drawn import SVG, a_reckoning, breadth, enclosed, height, number, read

RINGS = [
    a_reckoning(
        profile,
        3.0,
        3.0,
        pattern=pattern,
        pattern_when=None if pattern is Pattern.PLAIN else PatternWhen.FLAT,
    )
    for profile in Profile
    for pattern in Pattern
]
OF_A_RING: list[Callable[[Reckoning], Svg]] = [
    *(lambda ring, cut=cut: counter_drawing(ring, cut) for cut in Cut),
    lambda ring: counter_drawing(ring, Cut.WIDE, is_waiting=True),
    lambda ring: lying_ring(ring, 420),
    ring_thumb,
    sheet_blank,
    sheet_views,
    sheet_section,
]
DRAWINGS = [
    *(draw(ring) for ring in RINGS for draw in OF_A_RING),
    *(section_icon(profile) for profile in Profile),
    *(section_small(profile, 5, 2) for profile in Profile),
    *(state_mark(state) for state in State),
    caret(),
    chevron(),
    first_day_ring(),
    lying_ring(None, 440),
    check_bar_across(),
    check_bar_down(),
    warning_triangle(),
]
ALLOWED = {
    "aria-hidden", "aria-label", "cx", "cy", "d", "data-mm-per-unit", "data-part", "fill",
    "fill-rule", "focusable", "font-family", "font-size", "font-weight", "height", "r", "role",
    "stroke", "stroke-dasharray", "stroke-linecap", "stroke-linejoin", "stroke-width",
    "text-anchor", "transform", "viewBox", "width", "x", "y",
}  # fmt: skip


def test_drawings_carry_presentation_attributes_and_no_styles() -> None:
    for svg in DRAWINGS:
        for part in read(svg).iter():
            assert part.tag.removeprefix(SVG) in {"svg", "g", "path", "circle", "rect", "text"}
            assert set(part.attrib) <= ALLOWED


def test_every_drawing_is_either_told_in_words_or_marked_as_ornament() -> None:
    for svg in DRAWINGS:
        root = read(svg)
        told = root.get("role") == "img" and bool(root.get("aria-label"))
        assert told != (root.get("aria-hidden") == "true")


def test_numbers_are_written_short() -> None:
    for svg in DRAWINGS:
        without_scale = re.sub(r'data-mm-per-unit="[^"]*"', "", svg.markup)
        assert re.findall(r"\d+\.\d{3,}", without_scale) == []


def test_a_drawing_knows_its_own_size() -> None:
    for svg in DRAWINGS:
        left, top, width, tall = (float(v) for v in read(svg).get("viewBox", "").split())
        assert (left, top) == (0, 0)
        assert (width, tall) == pytest.approx((svg.width, svg.height), abs=0.006)


def test_a_template_prints_a_drawing_as_it_stands() -> None:
    svg = state_mark(State.READY)
    assert svg.__html__() == svg.markup == str(svg)


def test_words_cannot_break_out_of_a_drawing() -> None:
    assert text("<b>&", 0, 0, 10) == '<text x="0" y="0" font-size="10">&lt;b&gt;&amp;</text>'
    assert element("path", d='"><script>') == '<path d="&quot;&gt;&lt;script&gt;"/>'


@pytest.mark.parametrize("profile", Profile)
def test_the_drawn_section_is_the_section_that_is_reckoned(profile: Profile) -> None:
    drawn = section(profile, 6, 2)
    reference = outline(profile, 6, 2, 400)
    assert enclosed(drawn) == pytest.approx(section_mm2(profile, 6, 2), rel=0.005)
    assert enclosed(drawn) == pytest.approx(enclosed(list(reference)), rel=0.005)
    for places in (drawn, list(reference)):
        assert (breadth(places), height(places)) == pytest.approx((6, 2))


def test_sections_in_a_list_share_one_scale() -> None:
    small, large = section_small(Profile.FLAT, 4, 1.5), section_small(Profile.FLAT, 8, 1.5)
    assert (large.width - 2) / (small.width - 2) == pytest.approx(2)
    assert large.height == small.height


def test_a_section_too_wide_for_the_list_is_drawn_smaller_but_tells_its_measures() -> None:
    wide = section_small(Profile.FLAT, 40, 1)
    assert wide.width <= 76
    assert read(wide).get("aria-label") == "flat, 40 by 1 mm"


def test_seven_states_have_seven_marks() -> None:
    assert len({state_mark(state).markup for state in State}) == 7


@pytest.mark.parametrize("ring", RINGS, ids=lambda ring: f"{ring.design.profile}-{ring.design.pattern}")
def test_the_ring_on_the_table_is_as_wide_as_asked_and_seen_at_thirty_degrees(
    ring: Reckoning,
) -> None:
    drawn = lying_ring(ring, 420)
    path = [e for e in read(drawn).iter(f"{SVG}path") if e.get("stroke-width") == "2"]
    assert len(path) == 1
    hull = [
        (float(x), float(y))
        for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path[0].get("d", "").split("Z")[0])
    ]
    over_all = ring.diameter_mm + 2 * ring.design.thickness_mm
    assert drawn.width == pytest.approx(420, abs=0.1)
    assert breadth(hull) == pytest.approx(416, rel=0.002)
    # Seen at thirty degrees: half the outside diameter, and the sides foreshortened by the root of three
    # quarters; a rounded section shows less of its height.
    most = 416 * (0.5 + 3**0.5 / 2 * ring.design.width_mm / over_all)
    assert 416 * 0.5 <= height(hull) <= most * 1.002
    if ring.design.profile is Profile.FLAT:
        assert height(hull) == pytest.approx(most, rel=0.002)


def test_a_wide_ring_on_the_table_hides_the_table_and_a_narrow_one_does_not() -> None:
    def holes(width_mm: float) -> int:
        metal = next(read(lying_ring(a_reckoning(width_mm=width_mm), 400)).iter(f"{SVG}path"))
        return metal.get("d", "").count("Z") - 1

    assert (holes(4), holes(40)) == (1, 0)


def test_no_edge_of_a_facet_stops_just_short_of_the_side_of_the_ring() -> None:
    for across in range(1, 9):
        for x, y, _, _, u, v in strokes(Pattern.HAMMERED, float(across), 22.0, 1.0):
            leans_across = abs(u - x) * across > abs(v - y) * 22
            to_the_side = sorted(end * across for end in (x, 1 - x, u, 1 - u))
            if leans_across and to_the_side[0] > 1e-9:
                assert to_the_side[0] > 0.08


def test_hammered_facets_crowd_toward_the_edges_of_the_side_view() -> None:
    ring = a_reckoning(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
    root = read(counter_drawing(ring, Cut.WIDE))
    facets = next(
        e.get("d", "")
        for e in root.iter(f"{SVG}path")
        if "Q" in e.get("d", "") and e.get("stroke-width") == "0.8"
    )
    ys = sorted(float(y) for y in re.findall(r"M[\d.]+ ([\d.]+)Q", facets))
    middle, reach = (ys[0] + ys[-1]) / 2, (ys[-1] - ys[0]) / 2
    central = sum(abs(y - middle) < reach / 4 for y in ys)
    outer = sum(abs(y - middle) > 3 * reach / 4 for y in ys)
    assert outer > 1.3 * central > 0


def test_thumbs_compare_sizes_and_never_leave_their_square() -> None:
    def radii(around: float) -> list[float]:
        return [
            number(e, "r")
            for e in read(ring_thumb(a_reckoning(circumference_mm=around))).iter(f"{SVG}circle")
        ]

    small, large, huge = radii(50), radii(60), radii(90)
    assert large[1] / small[1] == pytest.approx(1.2, rel=0.005)
    assert max(huge) <= 31.01


@pytest.mark.parametrize(("weight", "face"), [(400, "Regular"), (600, "Semibold")])
def test_widths_of_type_are_those_of_the_font_itself(weight: int, face: str) -> None:
    # Outside check: the advance widths in the OpenType file of Source Sans Pro that screen and paper use.
    fonts = find_spec("font_source_sans_pro")
    assert fonts is not None
    assert fonts.origin is not None
    file = Path(fonts.origin).parent / "files" / f"SourceSansPro-{face}.otf"
    font = import_module("fontTools.ttLib").TTFont(file)
    names, advances = font.getBestCmap(), font["hmtx"]
    for sign in [*map(chr, range(32, 127)), *"Ø×½¼¾−–’°"]:
        assert text_width(sign, 1000, weight) == pytest.approx(advances[names[ord(sign)]][0]), sign


def test_the_longest_words_that_fit_are_taken() -> None:
    choice = ("inside 55.6 round", "55.6 round", "55.6")
    assert text_width("61.0", 10) == pytest.approx(17.4)
    assert first_that_fits(choice, 1000, 15) == choice[0]
    assert first_that_fits(choice, 70, 15) == choice[1]
    assert first_that_fits(choice, 5, 15) == ""
