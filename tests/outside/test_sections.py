"""Sections and rings against shapes drawn by shapely and volumes integrated by scipy."""

import math
from collections.abc import Callable

import pytest
from scipy.integrate import quad
from shapely import Point, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry

from studio.craft.blanks import true_length
from studio.craft.designs import Profile
from studio.craft.profiles import neutral_mm, outline, section_mm2

SIZES = [(6.0, 1.4), (4.0, 1.7), (2.0, 2.0), (1.3, 3.0), (12.0, 0.8)]
EVERY_PROFILE = pytest.mark.parametrize("profile", Profile)
EVERY_SIZE = pytest.mark.parametrize(("width", "thickness"), SIZES)


def ellipse(width: float, height: float, middle: float) -> Polygon:
    circle = Point(0, 0).buffer(1, quad_segs=2000)
    return affinity.translate(affinity.scale(circle, width / 2, height / 2), 0, middle)


def drawn(profile: Profile, width: float, thickness: float) -> Polygon:
    """The section as shapely draws it: inside face at y = 0, outside at y = thickness."""
    half = width / 2
    block = box(-half, 0, half, thickness)
    shape: BaseGeometry = block
    match profile:
        case Profile.FLAT | Profile.SQUARE:
            pass
        case Profile.HALF_ROUND:
            shape = ellipse(width, 2 * thickness, 0) & block
        case Profile.FLAT_COURT:
            shape = ellipse(width, 2 * thickness, thickness) & block
        case Profile.COURT | Profile.ROUND:
            shape = ellipse(width, thickness, thickness / 2)
        case Profile.LOW_DOME:
            xs = [half - width * step / 4000 for step in range(4001)]
            shape = Polygon([(x, thickness - thickness * (x / half) ** 2) for x in xs])
        case Profile.KNIFE_EDGE:
            shape = Polygon([(-half, 0), (half, 0), (0, thickness)])
    assert isinstance(shape, Polygon)
    return shape


def width_at(profile: Profile, width: float, thickness: float) -> Callable[[float], float]:
    """How wide the section is at a height above the inside face."""

    def dome(height: float) -> float:
        return width * math.sqrt(max(0.0, 1 - (height / thickness) ** 2))

    match profile:
        case Profile.FLAT | Profile.SQUARE:
            return lambda _: width
        case Profile.HALF_ROUND:
            return dome
        case Profile.FLAT_COURT:
            return lambda height: dome(thickness - height)
        case Profile.COURT | Profile.ROUND:
            return lambda height: width * math.sqrt(max(0.0, 1 - (2 * height / thickness - 1) ** 2))
        case Profile.LOW_DOME:
            return lambda height: width * math.sqrt(1 - height / thickness)
        case Profile.KNIFE_EDGE:
            return lambda height: width * (1 - height / thickness)


@EVERY_PROFILE
@EVERY_SIZE
def test_area_and_neutral_line_agree_with_shapely(profile: Profile, width: float, thickness: float) -> None:
    shape = drawn(profile, width, thickness)
    assert section_mm2(profile, width, thickness) == pytest.approx(shape.area, rel=1e-5)
    assert neutral_mm(profile, width, thickness) == pytest.approx(shape.centroid.y, rel=1e-5)
    assert shape.centroid.x == pytest.approx(0, abs=1e-9)


@EVERY_PROFILE
@EVERY_SIZE
def test_our_outline_is_the_shape_that_shapely_draws(
    profile: Profile, width: float, thickness: float
) -> None:
    ours, theirs = Polygon(outline(profile, width, thickness, 2000)), drawn(profile, width, thickness)
    assert ours.is_valid
    assert ours.exterior.is_ccw
    assert (ours ^ theirs).area < 1e-4 * theirs.area


@EVERY_PROFILE
@EVERY_SIZE
@pytest.mark.parametrize("circumference", [41.0, 57.0, 76.0])
def test_ring_volumes_agree_with_integration_shell_by_shell(
    profile: Profile, width: float, thickness: float, circumference: float
) -> None:
    inside, wide = circumference / (2 * math.pi), width_at(profile, width, thickness)
    volume, _ = quad(lambda height: 2 * math.pi * (inside + height) * wide(height), 0, thickness)
    ours = section_mm2(profile, width, thickness) * true_length(profile, width, thickness, circumference)
    assert ours == pytest.approx(volume, rel=1e-6)
