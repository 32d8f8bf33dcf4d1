"""How a figure came about, as it is read on the screen."""

from studio.craft.designs import System
from studio.craft.reckonings import Reckoning
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.units import figure_words
from studio.craft.working import Working
from studio.web.counter_page import Step, StepInput

_NAMES = {
    "ring.fit_mm": "Fit",
    "resizing.stones.length_mm": "Stones, side by side",
    "resizing.stones.run_percent": "Stones, of the way round",
    "ring.circumference_mm": "Inside, round",
    "ring.diameter_mm": "Inside, across",
    "ring.finished_width_mm": "Width, finished",
    "ring.finished_thickness_mm": "Thickness, finished",
    "ring.doubt_mm": "Nine in ten within ±",
    "ring.bias_mm": "Smaller than reckoned, in the middle",
    "ring.within_mm": "Of the size, nine in ten within",
    "ring.chance": "Chance of within half a size",
    "ring.opening_mm": "Opened by cleaning up the inside",
    "blank.width_mm": "Width of the blank",
    "blank.thickness_mm": "Thickness of the blank",
    "blank.section_mm2": "Section",
    "blank.stock_section_mm2": "Section of the stock",
    "blank.neutral_mm": "Neutral line above the inside",
    "blank.neutral_length_mm": "Neutral line of the closed ring",
    "blank.true_length_mm": "True length",
    "blank.din_length_mm": "Closed length by DIN 6935",
    "blank.mid_line_length_mm": "Closed length by the mid-line",
    "blank.centroid_length_mm": "Closed length by the centroid",
    "blank.mark_mm": "Mark",
    "blank.gauge_mm": "Nearest gauge",
    "stretch.mean_percent": "Stretch to expect",
    "stretch.low_percent": "Stretch, low end",
    "stretch.high_percent": "Stretch, high end",
    "stretch.used_percent": "Stretch reckoned with",
    "stretch.records": "Rings of our own behind it",
    "mass.density_g_cm3": "Density",
    "mass.blank_g": "Blank",
    "mass.issue_g": "To issue, with one saw cut",
    "mass.ring_g": "Ring as closed",
    "mass.finished_g": "Ring, finished",
    "hallmark.limit_g": "Hallmarked from",
    "hallmark.low_g": "Ring, finished, at the least",
    "hallmark.high_g": "Ring, finished, at the most",
    "hallmark.thick_mm": "Thickness at the limit",
    "hallmark.wide_mm": "Width at the limit",
    "ring.rise_mm": "Rise of the edges",
    "ring.edge_diameter_mm": "Across at the edges, inside",
    "ring.edge_strain_percent": "Edges stretched by",
    "ring.shift_mm": "The waist may come out smaller by",
    "ring.shift_steps": "The same in steps of the size",
    "ring.closed_circumference_mm": "Closed before it is formed, round",
    "ring.mean_thickness_mm": "Thickness in the mean, formed",
    "ring.middle_radius_mm": "Radius of the middle of the metal",
    "ring.knuckle_between_mm": "Between base and knuckle",
    "inscription.takes_mm": "The inscription takes",
    "inscription.has_mm": "The inscription has",
    "price.metal": "Metal",
    "price.labour": "Labour",
    "price.overhead": "Overhead",
    "price.own": "Own cost",
    "price.line": "Asked for the ring",
    **{f"ring.sizes.{system}": f"Nearest {SYSTEM_NAMES[system]} size, off by" for system in System},
}
"""What each figure is called, by its path in the reckoning."""


def steps_of(reckoning: Reckoning, *starts: str) -> tuple[Step, ...]:
    """The steps of every figure whose path begins with one of `starts`: each before what it hangs on."""
    return tuple(
        step_of(worked) for worked in reversed(reckoning.working) if worked.figure.startswith(starts)
    )


def step_of(worked: Working, which: str = "") -> Step:
    """One step in words; `which` follows its name: ', ring 2'."""
    return Step(
        name=f"{name_of(worked.figure)}{which}",
        value=with_unit(worked.value, worked.unit),
        formula=worked.formula,
        inputs=tuple(StepInput(one.name, with_unit(one.value, one.unit)) for one in worked.inputs),
        source=worked.source,
    )


def name_of(figure: str) -> str:
    """What a figure is called: 'blank.mark_mm' is 'Mark', 'resizing.uk.1.metal_g' 'UK, step 1, metal'."""
    if figure in _NAMES:
        return _NAMES[figure]
    if figure.startswith("resizing."):
        _, system, place, what = figure.split(".")
        return f"{SYSTEM_NAMES[System(system)]}, step {place}, {_OF_A_STEP[what]}"
    return _NAMES[figure]


_OF_A_STEP = {
    "change_mm": "let in or taken out",
    "metal_g": "metal",
    "hammered_mm": "thickness hammered up",
}


def with_unit(value: float | str, unit: str) -> str:
    """A value as it is said, rounded for reading: 61.2346 and "mm" give "61.235 mm"."""
    text = value if isinstance(value, str) else figure_words(value, 3).replace("-", "−")
    return f"{text} {unit}".strip()
