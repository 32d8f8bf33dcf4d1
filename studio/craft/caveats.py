"""What to beware of in a finger or a design. A caveat refuses nothing."""

from studio.craft.alloys import density_differs
from studio.craft.blank_figures import BlankFigures
from studio.craft.designs import Design, Finger
from studio.craft.metals import Alloy
from studio.craft.sizes import named
from studio.craft.units import shown_length
from studio.craft.working import Caveat

CAVEAT_CODES = frozenset(
    {
        "told", "gauge-unknown", "narrow-gauge", "size-range", "knuckle", "upright", "din-length",
        "density-differs", "density-computed",
    }
)  # fmt: skip
"""The codes of all caveats there are: what a reason may be given under."""

_WORTH_SAYING_MM = 0.05
"""A difference of length below this cannot be filed to and is not mentioned."""


def finger_caveats(finger: Finger, circumference_mm: float) -> tuple[Caveat, ...]:
    """A size not settled yet, a knuckle larger than the ring."""
    found = []
    if finger.to_label is not None:
        range_ = f"{named(finger.system, finger.label)} to {finger.to_label}"
        message = f"The size is not settled yet, {range_}. Everything is reckoned for {finger.to_label}."
        found.append(Caveat("size-range", "finger.size_to", message))
    knuckle = finger.knuckle_circumference_mm
    if knuckle is not None and knuckle > circumference_mm:
        larger = knuckle - circumference_mm
        message = (
            f"The knuckle is {larger:.2f} mm larger round than the ring. See that the ring passes over it."
        )
        found.append(Caveat("knuckle", "finger.knuckle", message))
    return tuple(found)


def design_caveats(design: Design, alloy: Alloy, blank: BlankFigures) -> tuple[Caveat, ...]:
    """An upright band, thick stock that DIN 6935 would cut shorter, a density that sources disagree on."""
    found = []
    if design.thickness_mm > design.width_mm:
        sizes = f"{shown_length(design.thickness_mm)} mm thick and {shown_length(design.width_mm)} mm wide"
        found.append(Caveat("upright", "thickness", f"The band stands upright: {sizes}."))
    if blank.din_length_mm is not None:
        shorter = blank.neutral_length_mm - blank.din_length_mm
        if shorter >= _WORTH_SAYING_MM:
            message = (
                f"Thick for so tight a bend: by DIN 6935 the length is {blank.din_length_mm:.2f} mm, "
                f"{shorter:.2f} shorter. What is too long can be filed."
            )
            found.append(Caveat("din-length", "thickness", message))
    if density_differs(alloy):
        message = (
            f"{_capital(alloy.name)} is listed at {alloy.listed_density:.2f} g/cm³, its parts give "
            f"{alloy.computed_density:.2f}. It is weighed by the listed value."
        )
        found.append(Caveat("density-differs", "alloy", message))
    elif alloy.listed_density is None and alloy.density_range is not None:
        low, high = alloy.density_range
        message = (
            f"No density is listed for {alloy.name}. Its parts give {alloy.computed_density:.2f} g/cm³; "
            f"what is printed for its kind runs from {low:g} to {high:g}."
        )
        found.append(Caveat("density-computed", "alloy", message))
    return tuple(found)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
