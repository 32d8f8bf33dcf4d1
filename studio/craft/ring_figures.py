"""The figures of the closed ring: its size, the nearest labels, what finishing leaves. Lengths in mm."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from studio.craft.designs import Design, Finger, Gauge, System
from studio.craft.fit import Fit
from studio.craft.practice import Practice
from studio.craft.sizes import BeyondZ, NearestSize, all_sizes, named
from studio.craft.stock import faces_filed
from studio.craft.working import Input, Notes

SIZE_RULES: Mapping[System, str] = {
    System.ISO: "ISO 8653: the label is the circumference",
    System.US: "inside diameter 0.458 in + 0.032 in a size",
    System.UK: "metric rule of BS 6820, from memory: A is 37.5 mm, 1.25 mm a letter",
    System.JP: "customary Japanese number: inside diameter 13 mm at 1, a third of a mm a number",
    System.CH: "custom of Switzerland, Italy and Spain: circumference less 40",
    System.DE: "German custom: the label is the inside diameter",
    System.HK: "no rule: one seller's chart, between its numbers on the straight line",
    System.IN: "no rule: two sellers' charts that agree, a third differs by about two numbers",
}
"""The rule behind each system's labels, with its source, in words."""

_BEYOND_Z = {
    BeyondZ.WHOLE: "beyond Z whole sizes",
    BeyondZ.HALF: "beyond Z half sizes",
    BeyondZ.TWO_MM: "beyond Z 2 mm a number",
}


def size_rule(system: System, practice: Practice) -> str:
    """The rule behind a system's labels as this studio reads them, with its source, in words."""
    if system is System.UK:
        return f"{SIZE_RULES[system]}; {_BEYOND_Z[practice.reading.beyond_z]}"
    return SIZE_RULES[system]


@dataclass(frozen=True, slots=True)
class RingFigures:
    """The ring itself, in mm."""

    circumference_mm: float
    diameter_mm: float
    sizes: Mapping[System, NearestSize | None]
    finished_width_mm: float
    finished_thickness_mm: float
    opening_mm: float


def ring_figures(
    finger: Finger, design: Design, allowance: Fit, practice: Practice, notes: Notes
) -> RingFigures:
    """Size, its labels, and what finishing leaves of the stock."""
    notes.note(
        "ring.fit_mm",
        allowance.fit_mm,
        "mm",
        allowance.formula,
        *allowance.inputs,
        source=practice.fit_source(design.profile),
    )
    corrected: tuple[Input, ...] = ()
    if finger.gauge is not None:
        corrected = (
            Input("gauge", _gauge_words(finger.gauge)),
            Input("correction of the gauge", finger.correction_mm, "mm"),
        )
    circumference = notes.note(
        "ring.circumference_mm",
        finger.reckoned_circumference_mm + allowance.fit_mm,
        "mm",
        "finger + correction of the gauge + fit" if corrected else "finger + fit",
        Input("size as given", named(finger.system, finger.to_label or finger.label)),
        Input("finger", finger.given_circumference_mm, "mm"),
        *corrected,
        Input("fit", allowance.fit_mm, "mm"),
        source=f"{size_rule(finger.system, practice)}; fit: {allowance.reason}",
    )
    diameter = notes.note(
        "ring.diameter_mm",
        circumference / math.pi,
        "mm",
        "circumference ÷ π",
        Input("circumference", circumference, "mm"),
        source="plane geometry",
    )
    sizes = all_sizes(circumference, practice.reading.beyond_z)
    for system, near in sizes.items():
        if near is not None:
            _note_size(system, near, circumference, notes)
    width = _finished_width(design, notes)
    faces = faces_filed(design)
    allowed = Input("allowance a face", practice.finishing_allowance_mm, "mm")
    thickness = notes.note(
        "ring.finished_thickness_mm",
        design.thickness_mm - len(faces) * practice.finishing_allowance_mm,
        "mm",
        "thickness − faces filed up × allowance a face",
        Input("thickness", design.thickness_mm, "mm"),
        Input("faces filed up", len(faces)),
        Input("which", " and ".join(faces)),
        allowed,
        source=practice.source_of("finishing_allowance_mm"),
    )
    opening = notes.note(
        "ring.opening_mm",
        2 * math.pi * practice.finishing_allowance_mm,
        "mm",
        "2 × π × allowance a face",
        allowed,
        source=practice.source_of("finishing_allowance_mm"),
    )
    return RingFigures(circumference, diameter, sizes, width, thickness, opening)


def _finished_width(design: Design, notes: Notes) -> float:
    width = Input("width", design.width_mm, "mm")
    groove = design.form.groove(design.width_mm, design.thickness_mm)
    if groove is None:
        source = "as chosen at the counter; the sides are only trued"
        return notes.note("ring.finished_width_mm", design.width_mm, "mm", "width", width, source=source)
    return notes.note(
        "ring.finished_width_mm",
        groove.finished_width_mm,
        "mm",
        "2 × middle radius × sin(width ÷ (2 × middle radius))",
        width,
        Input("middle radius", groove.middle_radius_mm, "mm"),
        source="plane geometry: the chord of the arc across the band",
    )


def _gauge_words(gauge: Gauge) -> str:
    """'Wide set, calibrated on 3 Nov 2026': the day on which the correction was found."""
    day = gauge.calibrated_on
    return gauge.name if day is None else f"{gauge.name}, calibrated on {day.day} {day:%b %Y}"


def _note_size(system: System, near: NearestSize, circumference_mm: float, notes: Notes) -> None:
    notes.note(
        f"ring.sizes.{system}",
        near.error_mm,
        "mm",
        "circumference of the label − circumference of the ring",
        Input("nearest label", named(system, near.label)),
        Input("circumference of the label", near.circumference_mm, "mm"),
        Input("circumference of the ring", circumference_mm, "mm"),
        source=SIZE_RULES[system],
    )
