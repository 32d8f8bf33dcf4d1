"""The figures of the blank a ring is made of: its section, its lengths, and the stretch they reckon with."""

from dataclasses import dataclass

from studio.craft import blanks, profiles
from studio.craft.designs import Design, Pattern, PatternWhen, Stock
from studio.craft.practice import Practice
from studio.craft.stretch import Stretch, prior_of, stretch
from studio.craft.working import Input, Notes

GEOMETRY = "plane geometry"
MEAN_LINE = "the neutral line keeps its length: common practice for strip, Pappus for the other sections"
CHOSEN = "as chosen at the counter"


@dataclass(frozen=True, slots=True)
class BlankFigures:
    """What is cut for the ring: lengths in mm, sections in mm2."""

    section_mm2: float
    stock_section_mm2: float
    neutral_mm: float
    neutral_length_mm: float
    true_length_mm: float
    din_length_mm: float | None
    mark_mm: float


def stretch_figures(design: Design, practice: Practice, notes: Notes) -> Stretch:
    """What the pattern adds to the length, in percent."""
    expected = stretch(design, practice)
    prior = prior_of(design, practice)
    source = expected.source if design.pattern is Pattern.PLAIN else practice.source
    mean = Input("mean", prior.mean_percent, "%")
    half = Input("half width", prior.half_width_percent, "%")
    low, high = "max(0, mean − half width)", "mean + half width"
    notes.note("stretch.mean_percent", expected.mean_percent, "%", "mean", mean, source=source)
    notes.note("stretch.low_percent", expected.low_percent, "%", low, mean, half, source=source)
    notes.note("stretch.high_percent", expected.high_percent, "%", high, mean, half, source=source)
    formula = "mean"
    inputs: tuple[Input, ...] = (mean,)
    if design.stretch_percent is not None:
        formula, inputs = "stretch as typed", (Input("stretch as typed", design.stretch_percent, "%"),)
    elif design.pattern_when is PatternWhen.FLAT:
        formula, inputs = low, (mean, half)
    used = expected.used_percent
    notes.note("stretch.used_percent", used, "%", formula, *inputs, source=expected.source)
    records = Input("rings of our own so far", expected.records)
    notes.note("stretch.records", expected.records, "rings", records.name, records, source="counted")
    return expected


def blank_figures(
    design: Design, circumference_mm: float, stretched: Stretch, practice: Practice, notes: Notes
) -> BlankFigures:
    """Section, neutral line, true length and mark."""
    section, stock, neutral = _sections(design, notes)
    profile, w, t = design.profile, design.width_mm, design.thickness_mm
    closed_length = blanks.true_length(profile, w, t, circumference_mm)
    circumference = Input("circumference", circumference_mm, "mm")
    formula = "circumference + 2 × π × neutral line"
    inputs: tuple[Input, ...] = (circumference, Input("neutral line", neutral, "mm"))
    true = closed_length
    if design.pattern_when is PatternWhen.CLOSED:
        notes.note("blank.neutral_length_mm", closed_length, "mm", formula, *inputs, source=MEAN_LINE)
        true = blanks.before_stretch(closed_length, stretched.used_percent)
        formula = "neutral line of the closed ring ÷ (1 + stretch ÷ 100)"
        inputs = (
            Input("neutral line of the closed ring", closed_length, "mm"),
            Input("stretch", stretched.used_percent, "%"),
        )
    notes.note("blank.true_length_mm", true, "mm", formula, *inputs, source=MEAN_LINE)
    din = blanks.din_length(profile, t, circumference_mm)
    if din is not None:
        notes.note(
            "blank.din_length_mm",
            din,
            "mm",
            "circumference + π × thickness × (0.65 + 0.5 × log10(circumference ÷ (2 × π × thickness)))",
            circumference,
            Input("thickness", t, "mm"),
            source="DIN 6935, from memory: the neutral line of a tight bend lies further in",
        )
    mark = _mark(design, true, stretched.used_percent, practice, notes)
    return BlankFigures(section, stock, neutral, closed_length, true, din, mark)


def _sections(design: Design, notes: Notes) -> tuple[float, float, float]:
    """Section of the ring and of its stock in mm2, height of the neutral line in mm."""
    profile, w, t = design.profile, design.width_mm, design.thickness_mm
    width, thickness = Input("width", w, "mm"), Input("thickness", t, "mm")
    notes.note("blank.width_mm", w, "mm", "width", width, source=CHOSEN)
    notes.note("blank.thickness_mm", t, "mm", "thickness", thickness, source=CHOSEN)
    section = profiles.section_mm2(profile, w, t)
    formula = profiles.section_formula(profile)
    notes.note("blank.section_mm2", section, "mm²", formula, width, thickness, source=GEOMETRY)
    stock, source = section, "wire drawn to the section"
    if design.stock is Stock.STRIP:
        stock, formula, source = w * t, "width × thickness", "cut from strip"
    notes.note("blank.stock_section_mm2", stock, "mm²", formula, width, thickness, source=source)
    neutral = notes.note(
        "blank.neutral_mm",
        profiles.neutral_mm(profile, w, t),
        "mm",
        profiles.neutral_formula(profile),
        thickness,
        source="centroid of the section",
    )
    return section, stock, neutral


def _mark(design: Design, true_mm: float, used_percent: float, practice: Practice, notes: Notes) -> float:
    value, formula = true_mm, "true length"
    inputs: tuple[Input, ...] = (Input("true length", true_mm, "mm"),)
    if design.pattern_when is PatternWhen.FLAT:
        value = blanks.before_stretch(true_mm, used_percent)
        formula = "true length ÷ (1 + stretch ÷ 100)"
        inputs = (*inputs, Input("stretch", used_percent, "%"))
    trim = Input("trim", practice.trim_mm, "mm")
    return notes.note(
        "blank.mark_mm",
        value + practice.trim_mm,
        "mm",
        f"{formula} + trim",
        *inputs,
        trim,
        source=f"trim for squaring both ends: {practice.source}",
    )
