"""The figures of the blank a ring is made of: its section, its lengths, and the stretch they reckon with."""

from dataclasses import dataclass

from studio.craft import blanks, profiles
from studio.craft.designs import Design, Pattern, PatternWhen, Stock
from studio.craft.practice import LengthRule, Practice
from studio.craft.sheet_gauges import GAUGE_SOURCES, nearest_gauge, scale_words
from studio.craft.stock import Lengths, lengths
from studio.craft.stretch import Stretch, prior_of, stretch, stretch_source
from studio.craft.working import Input, Notes

GEOMETRY = "plane geometry"
MEAN_LINE = "the neutral line keeps its length: common practice for strip, Pappus for the other sections"
NEUTRAL_SOURCES = {
    LengthRule.CENTROID: "centroid of the section",
    LengthRule.MID_LINE: "the middle of the thickness, our own rule",
    LengthRule.DIN: "DIN 6935, from memory, our own rule: in a tight bend the neutral line lies further in",
}
CHOSEN = "as chosen at the counter"
_DIN_FACTOR = "(0.65 + 0.5 × log10(circumference ÷ (2 × π × thickness)))"


@dataclass(frozen=True, slots=True)
class BlankFigures:
    """What is cut for the ring: lengths in mm, sections in mm2."""

    section_mm2: float
    stock_section_mm2: float
    neutral_mm: float
    neutral_length_mm: float
    true_length_mm: float
    lengths: Lengths
    mark_mm: float


def stretch_figures(design: Design, practice: Practice, notes: Notes) -> Stretch:
    """What the pattern adds to the length, in percent."""
    expected = stretch(design, practice)
    prior = prior_of(design, practice)
    source = expected.source
    if design.pattern is not Pattern.PLAIN and design.pattern_when is not None:
        source = stretch_source(design, practice)
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
    section, stock = _sections(design, notes)
    found = lengths(design, circumference_mm, practice.length_rule)
    neutral = _neutral(design, circumference_mm, found, notes)
    closed_length = found.reckoned_mm
    source = MEAN_LINE if found.rule is LengthRule.CENTROID else NEUTRAL_SOURCES[found.rule]
    circumference = Input("circumference", circumference_mm, "mm")
    formula = "circumference + 2 × π × neutral line"
    inputs: tuple[Input, ...] = (circumference, Input("neutral line", neutral, "mm"))
    true = closed_length
    if design.pattern_when is PatternWhen.CLOSED:
        notes.note("blank.neutral_length_mm", closed_length, "mm", formula, *inputs, source=source)
        true = blanks.before_stretch(closed_length, stretched.used_percent)
        formula = "neutral line of the closed ring ÷ (1 + stretch ÷ 100)"
        inputs = (
            Input("neutral line of the closed ring", closed_length, "mm"),
            Input("stretch", stretched.used_percent, "%"),
        )
    notes.note("blank.true_length_mm", true, "mm", formula, *inputs, source=source)
    _other_lengths(design, circumference_mm, found, notes)
    mark = _mark(design, true, stretched.used_percent, practice, notes)
    _gauge(design, practice, notes)
    return BlankFigures(section, stock, neutral, closed_length, true, found, mark)


def _gauge(design: Design, practice: Practice, notes: Notes) -> None:
    """The gauge number beside the stock, where the studio prints one."""
    scale = practice.reading.printed_scale
    if scale is not None:
        number, mm = nearest_gauge(design.thickness_mm, scale)
        notes.note(
            "blank.gauge_mm",
            mm,
            "mm",
            f"{scale_words(number, scale)}, the nearest to the thickness",
            Input("thickness", design.thickness_mm, "mm"),
            source=GAUGE_SOURCES[scale],
        )


def _neutral(design: Design, circumference_mm: float, found: Lengths, notes: Notes) -> float:
    """Height of the neutral line above the inside face by the rule that was used, in mm."""
    thickness = Input("thickness", design.thickness_mm, "mm")
    inputs: tuple[Input, ...] = (thickness,)
    formula = profiles.neutral_formula(design.profile)
    value = profiles.neutral_mm(design.profile, design.width_mm, design.thickness_mm)
    if found.rule is LengthRule.MID_LINE:
        formula, value = "thickness ÷ 2", design.thickness_mm / 2
    elif found.rule is LengthRule.DIN:
        formula = f"{_DIN_FACTOR} × thickness ÷ 2"
        value = blanks.din_factor(design.thickness_mm, circumference_mm) * design.thickness_mm / 2
        inputs = (Input("circumference", circumference_mm, "mm"), thickness)
    source = NEUTRAL_SOURCES[found.rule]
    return notes.note("blank.neutral_mm", value, "mm", formula, *inputs, source=source)


def _other_lengths(design: Design, circumference_mm: float, found: Lengths, notes: Notes) -> None:
    """The lengths of the closed ring by the rules that were not used, where they say something else."""
    circumference = Input("circumference", circumference_mm, "mm")
    thickness = Input("thickness", design.thickness_mm, "mm")
    if found.din_mm is not None:
        notes.note(
            "blank.din_length_mm",
            found.din_mm,
            "mm",
            f"circumference + π × thickness × {_DIN_FACTOR}",
            circumference,
            thickness,
            source="DIN 6935, from memory: the neutral line of a tight bend lies further in",
        )
    if found.rule is not LengthRule.MID_LINE and found.differs(found.mid_line_mm):
        notes.note(
            "blank.mid_line_length_mm",
            found.mid_line_mm,
            "mm",
            "circumference + π × thickness",
            circumference,
            thickness,
            source="the middle of the thickness: common practice for strip",
        )
    if found.rule is not LengthRule.CENTROID and found.differs(found.centroid_mm):
        notes.note(
            "blank.centroid_length_mm",
            found.centroid_mm,
            "mm",
            f"circumference + 2 × π × ({profiles.neutral_formula(design.profile)})",
            circumference,
            thickness,
            source="centroid of the section (Pappus)",
        )


def _sections(design: Design, notes: Notes) -> tuple[float, float]:
    """Section of the ring and of its stock in mm2."""
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
    return section, stock


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
        source=f"trim for squaring both ends: {practice.source_of('trim_each_end_mm')}",
    )
