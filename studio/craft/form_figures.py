"""The figures of a band sunk over a groove: how it flares, what its metal and its waist may do."""

import math
from dataclasses import dataclass

from studio.craft.anticlastic import QUARTER_US_MM, AnticlasticBand, Groove
from studio.craft.designs import Design, Finger
from studio.craft.forming_learning import forming_for, forming_words
from studio.craft.practice import Practice
from studio.craft.working import Caveat, Input, Notes

_GEOMETRY = "plane geometry: an arc across the band, turned around the finger"
_PAPPUS = (
    "theorem of Pappus; the waist falls short by this where the mean circumference is kept, else by less"
)


@dataclass(frozen=True, slots=True)
class FormFigures:
    """An anticlastic band. Lengths in mm.

    `closed_mm` is the circumference to close the strip on, so that the waist comes to the size. `shift_mm` is
    the most by which the waist may come out smaller, round, and `shift_steps` the same in steps of the
    customer's own system. `correction_mm` is by how much the waist is reckoned to fall, learned from the
    studio's own rings or of its practice, as `correction_source` says.
    """

    groove: Groove
    edge_mm: float
    edge_strain_percent: float
    mean_thickness_mm: float
    shift_mm: float
    shift_steps: float
    closed_mm: float
    correction_mm: float
    correction_source: str
    wants_copper_trial: bool
    caveats: tuple[Caveat, ...]


def form_figures(
    finger: Finger, design: Design, circumference_mm: float, practice: Practice, notes: Notes
) -> FormFigures | None:
    """The figures of the form, with their workings; None for a plain band."""
    groove = design.form.groove(design.width_mm, design.thickness_mm)
    if groove is None:
        return None
    correction_mm, correction_source = _correction(design, practice)
    band = AnticlasticBand(groove, circumference_mm / math.pi, correction_mm)
    width, thickness = Input("width", design.width_mm, "mm"), Input("thickness", design.thickness_mm, "mm")
    middle = _middle_radius(design, groove, thickness, notes)
    notes.note(
        "ring.rise_mm",
        groove.rise_mm,
        "mm",
        "middle radius × (1 − cos(width ÷ (2 × middle radius)))",
        middle,
        width,
        source=_GEOMETRY,
    )
    rise, waist = Input("rise", groove.rise_mm, "mm"), Input("diameter of the waist", band.waist_mm, "mm")
    edge = notes.note(
        "ring.edge_diameter_mm",
        band.edge_mm,
        "mm",
        "diameter of the waist + 2 × rise",
        waist,
        rise,
        source=_GEOMETRY,
    )
    strain = notes.note(
        "ring.edge_strain_percent",
        100 * band.edge_strain,
        "%",
        "100 × 2 × rise ÷ (diameter of the waist + thickness)",
        rise,
        waist,
        thickness,
        source="plane geometry: the middle of the metal at the edge against that at the waist",
    )
    shift = notes.note(
        "ring.shift_mm",
        groove.shift_mm,
        "mm",
        "2 × π × (middle radius − 2 × middle radius² ÷ width × sin(width ÷ (2 × middle radius)))",
        middle,
        width,
        source=_PAPPUS,
    )
    range_ = Input("range of the waist", shift, "mm")
    step_mm = practice.doubt.steps_mm[finger.system]
    steps = band.shift_in_steps(step_mm) if step_mm else 0.0
    if step_mm:
        notes.note(
            "ring.shift_steps",
            steps,
            "sizes",
            "range of the waist ÷ step of the gauge",
            range_,
            Input("step of the gauge", step_mm, "mm"),
            source=practice.source_of(f"doubt.steps_mm.{finger.system}"),
        )
    correction = Input("correction of the studio", correction_mm, "mm")
    closed = notes.note(
        "ring.closed_circumference_mm",
        circumference_mm + correction_mm,
        "mm",
        "circumference + correction of the studio",
        Input("circumference", circumference_mm, "mm"),
        correction,
        source=correction_source,
    )
    mean = notes.note(
        "ring.mean_thickness_mm",
        band.mean_thickness_mm,
        "mm",
        "thickness × (π × (diameter of the waist + thickness) + correction of the studio)"
        " ÷ (π × (diameter of the waist + thickness) + range of the waist)",
        thickness,
        waist,
        correction,
        range_,
        source="no metal is lost; theorem of Pappus",
    )
    return FormFigures(
        groove,
        edge,
        strain,
        mean,
        shift,
        steps,
        closed,
        correction_mm,
        correction_source,
        band.wants_copper_trial,
        _caveats(band, practice),
    )


def _correction(design: Design, practice: Practice) -> tuple[float, str]:
    """By how much the waist is reckoned to fall, and who says so: the bench before the practice."""
    known = forming_for(design, practice.alloys[design.alloy].metal, practice.learned_forming)
    if known is None:
        return practice.anticlastic.correction_mm, practice.source_of("anticlastic.correction_mm")
    return known.mean_mm, forming_words(known)


def _middle_radius(design: Design, groove: Groove, thickness: Input, notes: Notes) -> Input:
    """The radius of the middle of the metal: from the groove, or solved from the rise."""
    radius_mm, rise_mm = design.form.radius_mm, design.form.rise_mm
    formula = "groove radius − thickness ÷ 2"
    inputs: tuple[Input, ...] = (Input("groove radius", radius_mm or 0.0, "mm"), thickness)
    if rise_mm is not None:
        formula = "rise ÷ (2 × sin(half angle ÷ 2)²)"
        inputs = (Input("rise", rise_mm, "mm"), Input("half angle", groove.half_angle, "rad"))
    value = notes.note(
        "ring.middle_radius_mm", groove.middle_radius_mm, "mm", formula, *inputs, source=_GEOMETRY
    )
    return Input("middle radius", value, "mm")


def _caveats(band: AnticlasticBand, practice: Practice) -> tuple[Caveat, ...]:
    """Edges stretched far, edges that meet the next fingers, a waist that reckoning leaves too open."""
    terms, told = practice.anticlastic, []
    field = "form"
    strain = 100 * band.edge_strain
    if strain > terms.strain_percent:
        message = f"The edges get {strain:.0f} % longer than the waist and may tear. Choose a gentler curve."
        told.append(Caveat("edge-strain", field, message))
    wider = band.edge_mm - band.waist_mm
    if wider > terms.edge_mm:
        message = (
            f"The edges stand {wider:.1f} mm wider across than the waist and meet the fingers beside it. "
            "Choose a gentler curve."
        )
        told.append(Caveat("edge-wide", field, message))
    if band.wants_copper_trial:
        message = (
            f"The waist may come out up to {band.groove.shift_mm:.2f} mm smaller round, more than a quarter "
            f"US size ({QUARTER_US_MM:.2f}). Make a trial in copper first."
        )
        told.append(Caveat("copper-trial", field, message))
    return tuple(told)
