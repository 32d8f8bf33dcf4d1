"""Every design that is accepted can be drawn: for the counter, for lists, for the bench, for the quote."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from studio.craft.designs import Design, Finger
from studio.craft.drawing import (
    Cut,
    Svg,
    counter_drawing,
    lying_ring,
    quote_ring,
    quote_ring_scale,
    quote_section,
    quote_views,
    ring_thumb,
    section_small,
    sheet_blank,
    sheet_section,
    sheet_views,
)
from studio.craft.reckonings import reckon
from tests.craft.drawn import breadth, corners, number, part, read
from tests.strategies import designs, whole_fingers

NOT_A_PLACE = re.compile(r"(?<![a-z])(?:nan|inf|none)(?![a-z])", re.IGNORECASE)
NEVER_BELOW_NOTHING = {"width", "height", "r", "rx", "ry"}
WITH_PLACES = {"d", "points", "transform", "viewBox", "x", "y", "x1", "y1", "x2", "y2", "cx", "cy"}


def drawn(svg: Svg) -> None:
    """A drawing that can be read, has a size, is told in words or is mere ornament, and lies somewhere."""
    root = read(svg)
    assert 0 < svg.width < math.inf
    assert 0 < svg.height < math.inf
    assert root.get("aria-hidden") == "true" or (root.get("role") == "img" and root.get("aria-label"))
    for element in root.iter():
        for name, value in element.attrib.items():
            if name in WITH_PLACES:
                assert not NOT_A_PLACE.search(value), (name, value[:80])
            if name in NEVER_BELOW_NOTHING:
                assert float(value.removesuffix("mm")) >= 0, (name, value)


@settings(max_examples=20)  # a hammered face has thousands of facets
@given(whole_fingers(), designs(), st.sampled_from(Cut))
def test_the_counter_draws_every_design_to_its_own_scale(finger: Finger, chosen: Design, cut: Cut) -> None:
    found = reckon(finger, chosen)
    drawn(counter_drawing(found, cut, is_waiting=True))
    svg = counter_drawing(found, cut)
    drawn(svg)
    root = read(svg)
    mm = number(root, "data-mm-per-unit")
    section = part(root, "section")
    wide = breadth(corners(section)) * number(section, "data-mm-per-unit")
    assert 2 * number(part(root, "inside"), "r") * mm == pytest.approx(found.diameter_mm, rel=0.005)
    assert number(part(root, "blank"), "width") * mm == pytest.approx(found.mark_mm, rel=0.005)
    assert wide == pytest.approx(chosen.width_mm, rel=0.005)


@settings(max_examples=20)  # a hammered face has thousands of facets
@given(whole_fingers(), designs())
def test_the_bench_sheet_draws_every_design(finger: Finger, chosen: Design) -> None:
    found = reckon(finger, chosen)
    for svg in (sheet_blank(found), sheet_views(found), sheet_section(found)):
        drawn(svg)


@settings(max_examples=20)  # a hammered face has thousands of facets
@given(whole_fingers(), designs())
def test_the_quote_draws_every_design(finger: Finger, chosen: Design) -> None:
    found = reckon(finger, chosen)
    for svg in (quote_section(found), quote_views(found), quote_ring(found, quote_ring_scale(found, 60, 60))):
        drawn(svg)


@settings(max_examples=20)  # a hammered face has thousands of facets
@given(whole_fingers(), designs())
def test_lists_and_pages_draw_every_design(finger: Finger, chosen: Design) -> None:
    found = reckon(finger, chosen)
    small = section_small(chosen.profile, chosen.width_mm, chosen.thickness_mm)
    for svg in (small, lying_ring(found, 240), ring_thumb(found)):
        drawn(svg)
