"""Small sections: the row to choose from at the counter, and the list of orders, all to one scale."""

from functools import lru_cache

from studio.craft.designs import Profile
from studio.craft.drawing.lines import INK, METAL, SECOND_INK, Point, hatching
from studio.craft.drawing.outlines import section
from studio.craft.drawing.svg import Svg, drawing, element, points
from studio.craft.profiles import PROFILE_NAMES

_ICON: dict[Profile, tuple[float, float]] = {
    Profile.FLAT: (23, 8),
    Profile.HALF_ROUND: (23, 9),
    Profile.LOW_DOME: (23, 8),
    Profile.COURT: (23, 10),
    Profile.FLAT_COURT: (23, 9),
    Profile.ROUND: (15, 15),
    Profile.SQUARE: (14, 14),
    Profile.KNIFE_EDGE: (23, 12),
}
"""Width and thickness of each section in the row, in px."""


def _small(profile: Profile, width: float, thickness: float, foot: Point) -> str:
    """A section whose inside face lies on `foot`, in px."""
    x, y = foot
    outline = [(x + a, y - b) for a, b in section(profile, width, thickness)]
    return element(
        "path", d=points(outline), fill=METAL, stroke=INK, stroke_width=1.6, stroke_linejoin="round"
    ) + element("path", d=hatching(outline, 3), fill="none", stroke=SECOND_INK, stroke_width=0.8)


@lru_cache(maxsize=16)
def section_icon(profile: Profile) -> Svg:
    """The section as a mark of 28 x 20 px; the profile's name stands in words beside or above it."""
    width, thickness = _ICON[profile]
    ink = _small(profile, width, thickness, (14, 10 + thickness / 2))
    return drawing(ink, width=28, height=20, label="", focusable="false")


@lru_cache(maxsize=512)
def section_small(profile: Profile, width_mm: float, thickness_mm: float, scale: float = 6.0) -> Svg:
    """The section to scale, `scale` px a mm, for a list whose rows share one scale.

    A section is never larger than 76 x 28 px; one that would be is drawn smaller, and its label
    says its measures.
    """
    px = min(scale, 74 / width_mm, 26 / thickness_mm)
    width, thickness = width_mm * px, thickness_mm * px
    ink = _small(profile, width, thickness, (1 + width / 2, thickness + 1))
    label = f"{PROFILE_NAMES[profile]}, {width_mm:g} by {thickness_mm:g} mm"
    return drawing(ink, width=width + 2, height=thickness + 2, label=label, data_mm_per_unit=f"{1 / px:.6f}")
