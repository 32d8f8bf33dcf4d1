"""An anticlastic band as it is drawn: section, side, front, lying on the table."""

from itertools import pairwise
from math import cos, hypot, pi, sin

import pytest

from studio.craft.drawing import Cut, counter_drawing, lying_ring
from studio.craft.drawing.flared import flare
from studio.craft.drawing.lying_band import Band, outline
from studio.craft.drawing.outlines import (
    formed_section,
    formed_side,
    outside_radius,
    section_height,
    seen_width,
)
from studio.craft.form import Form, FormKind
from studio.craft.reckonings import Reckoning
from tests.craft.drawn import a_reckoning


def flaring(**changes: float) -> Reckoning:
    """Strip 8 x 0.8 mm over a groove of 12.4 mm, unless told otherwise."""
    form = Form(FormKind.ANTICLASTIC, **(changes or {"radius_mm": 12.4}))
    return a_reckoning(width_mm=8.0, thickness_mm=0.8, alloy="silver-925", form=form)


def arc_of(ring: Reckoning) -> float:
    """Half the angle that the strip reaches round: W/(2 g) = 8/24."""
    return ring.design.width_mm / (2 * 12.0)


def test_the_section_drawn_holds_all_the_metal_of_the_strip() -> None:
    # a ring sector of mean radius g, thickness t and angle W/g has the area W t: plane geometry
    arc = flare(flaring())
    assert arc is not None
    corners = formed_section(arc)
    around = [*corners, corners[0]]
    area = abs(sum(a * d - c * b for (a, b), (c, d) in pairwise(around))) / 2
    assert area == pytest.approx(8 * 0.8, rel=2e-3)  # straight pieces stand for the arcs


def test_the_section_is_as_thick_everywhere_as_the_strip() -> None:
    arc = flare(flaring())
    assert arc is not None
    for u in arc.places():
        (a, b), (c, d) = arc.outside(u), arc.inside(u)
        assert hypot(a - c, b - d) == pytest.approx(0.8)


def test_the_edges_stand_over_the_waist_by_the_rise() -> None:
    ring = flaring()
    arc = flare(ring)
    assert arc is not None
    assert ring.form is not None
    middle = [(arc.outside(u)[1] + arc.inside(u)[1]) / 2 for u in (0.0, 1.0)]
    assert middle[1] - middle[0] == pytest.approx(ring.form.groove.rise_mm)
    assert middle[1] - middle[0] == pytest.approx(0.661, abs=5e-4)
    assert arc.inside(0)[1] == pytest.approx(ring.diameter_mm / 2)


def test_the_sides_reach_out_to_the_edges() -> None:
    ring = flaring()
    arc = flare(ring)
    assert arc is not None
    a = arc_of(ring)
    edge = ring.diameter_mm / 2 + 0.4 + 12 - 11.6 * cos(a)
    assert outside_radius(ring) == pytest.approx(edge)
    assert max(y for _, y in formed_side(arc)) == pytest.approx(edge)
    assert seen_width(ring) == pytest.approx(2 * 12.4 * sin(a))
    assert section_height(ring) == pytest.approx(edge - ring.diameter_mm / 2)


def test_a_groove_without_end_draws_a_band() -> None:
    ring, band = flaring(radius_mm=1000.0), a_reckoning(width_mm=8.0, thickness_mm=0.8, alloy="silver-925")
    assert seen_width(ring) == pytest.approx(seen_width(band), abs=0.01)
    assert outside_radius(ring) == pytest.approx(outside_radius(band), abs=0.01)


def test_the_eye_sees_past_the_waist_of_the_ring_on_the_table() -> None:
    ring = flaring(rise_mm=2.0)
    arc = flare(ring)
    assert arc is not None
    design = ring.design
    seen = outline(Band(design.profile, design.pattern, 8.0, 0.8, ring.diameter_mm / 2, 1.0, arc))
    at_waist = min((abs(y), abs(x)) for x, y in seen)[1]
    assert at_waist < max(abs(x) for x, _ in seen) - 0.5
    assert max(abs(x) for x, _ in seen) <= outside_radius(ring) + 1e-9


def test_every_drawing_says_that_the_edges_flare() -> None:
    ring = flaring()
    assert "its edges flaring" in counter_drawing(ring, Cut.WIDE).markup
    assert "its edges flaring" in lying_ring(ring, 200).markup
    assert "flaring" not in counter_drawing(a_reckoning(), Cut.WIDE).markup
    assert pi > arc_of(ring)
