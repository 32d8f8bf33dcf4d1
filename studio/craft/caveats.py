"""What to beware of in a finger or a design. A caveat refuses nothing."""

from contextlib import suppress

from studio.craft.alloys import density_differs, density_g_cm3
from studio.craft.blank_figures import BlankFigures
from studio.craft.designs import Design, Finger, System
from studio.craft.errors import Refused
from studio.craft.metals import Alloy
from studio.craft.practice import LengthRule
from studio.craft.size_tables import TABLES, disagreement_words
from studio.craft.sizes import BeyondZ, named, read_size
from studio.craft.units import figure_words, read_fraction, shown_length, tidied
from studio.craft.working import Caveat

CAVEAT_CODES = frozenset(
    {
        "told", "gauge-unknown", "narrow-gauge", "size-range", "knuckle", "upright", "din-length",
        "density-differs", "density-computed", "density-spread", "edge-strain", "edge-wide", "copper-trial",
        "size-by-table", "beyond-z",
    }
)  # fmt: skip
"""The codes of all caveats there are: what a reason may be given under."""

_WORTH_SAYING_MM = 0.05
"""A difference of length below this cannot be filed to and is not mentioned."""


def finger_caveats(finger: Finger) -> tuple[Caveat, ...]:
    """A size not settled yet, and one that charts do not agree on."""
    told = []
    if finger.to_label is not None:
        range_ = f"{named(finger.system, finger.label)} to {finger.to_label}"
        message = f"The size is not settled yet, {range_}. Everything is reckoned for {finger.to_label}."
        told.append(Caveat("size-range", "finger.size_to", message))
    label = finger.to_label or finger.label
    if finger.system in TABLES:
        number = read_fraction(tidied(label))
        if number is not None and (words := disagreement_words(finger.system, float(number), label)):
            told.append(Caveat("size-by-table", "finger.size", words))
    elif finger.system is System.UK and "+" in label:
        message = (
            f"{label} is read as {finger.given_circumference_mm:.2f} mm round. Gauges and charts read it as "
            f"{_read_beyond_z(label)}. Measure it once more in mm."
        )
        told.append(Caveat("beyond-z", "finger.size", message))
    return tuple(told)


def _read_beyond_z(label: str) -> str:
    """What a number behind Z is by each of its readings that a finger can have: 'Z+2': '70, 71.25 or 72'."""
    read = set()
    for beyond in BeyondZ:
        with suppress(Refused):
            read.add(read_size(System.UK, label, beyond=beyond).circumference_mm)
    *first, last = (figure_words(mm) for mm in sorted(read))
    return f"{', '.join(first)} or {last}" if first else last


def design_caveats(design: Design, alloy: Alloy, blank: BlankFigures) -> tuple[Caveat, ...]:
    """An upright band, thick stock that DIN 6935 would cut shorter, a density that sources disagree on."""
    told = []
    if design.thickness_mm > design.width_mm:
        sizes = f"{shown_length(design.thickness_mm)} mm thick and {shown_length(design.width_mm)} mm wide"
        told.append(Caveat("upright", "thickness", f"The band stands upright: {sizes}."))
    found = blank.lengths
    if found.din_mm is not None:
        shorter = found.centroid_mm - found.din_mm
        if shorter >= _WORTH_SAYING_MM:
            message = (
                f"Thick for so tight a bend: by DIN 6935 the length is {found.din_mm:.2f} mm, "
                f"{shorter:.2f} shorter. What is too long can be filed."
            )
            if found.rule is LengthRule.DIN:
                message = (
                    f"Thick for so tight a bend: reckoned by DIN 6935, {shorter:.2f} mm shorter than by the "
                    "middle of the thickness. What is too short is lost."
                )
            told.append(Caveat("din-length", "thickness", message))
    if not alloy.knows_parts and alloy.density_range is not None:
        low, high = alloy.density_range
        message = (
            f"Only the fineness of {alloy.name} is known: {low:g} to {high:g} g/cm³. Every weight may be "
            f"{50 * (high - low) / density_g_cm3(alloy):.1f} % more or less. Ask its maker for the density."
        )
        told.append(Caveat("density-spread", "alloy", message))
    elif density_differs(alloy):
        message = (
            f"{_capital(alloy.name)} is listed at {alloy.listed_density:.2f} g/cm³, its parts give "
            f"{alloy.computed_density:.2f}. It is weighed by the listed value."
        )
        told.append(Caveat("density-differs", "alloy", message))
    elif alloy.listed_density is None and alloy.density_range is not None:
        low, high = alloy.density_range
        message = (
            f"No density is listed for {alloy.name}. Its parts give {alloy.computed_density:.2f} g/cm³; "
            f"what is printed for its kind runs from {low:g} to {high:g}."
        )
        told.append(Caveat("density-computed", "alloy", message))
    return tuple(told)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
