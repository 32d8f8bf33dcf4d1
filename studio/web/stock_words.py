"""Stock and finished thickness, lengths side by side, and what to measure again, in words."""

from studio.craft.practice import LengthRule
from studio.craft.reckonings import Reckoning
from studio.craft.stock import faces_filed
from studio.craft.units import figure_words
from studio.craft.worth_repeating import worth_repeating

RULES = {
    LengthRule.CENTROID: "by the centroid",
    LengthRule.MID_LINE: "by the mid-line",
    LengthRule.DIN: "by DIN 6935",
}
"""The rules of length as a line of figures names them."""


def finish_words(full: Reckoning) -> str:
    """'Stock 1.6 mm thick, finished 1.5 mm: 0.05 mm off inside and outside; cleaning up the inside ...'."""
    stock, thick = figure_words(full.design.thickness_mm), figure_words(full.finished_thickness_mm)
    return f"Stock {stock} mm thick, finished {thick} mm: {filed_words(full)}."


def form_words(full: Reckoning) -> str:
    """How an anticlastic band comes out, and what its waist may do; nothing for a band.

    'Formed 7.85 mm wide, edges 0.66 mm over the waist, 19.44 mm across, stretched 7 %, metal 0.78 mm in the
    mean. The waist may come out up to 1.39 mm smaller round, 2.2 gauge steps.'
    """
    formed = full.form
    if formed is None:
        return ""
    groove = formed.groove
    steps = f", {formed.shift_steps:.1f} steps of the gauge" if formed.shift_steps else ""
    own, source = formed.correction_mm, formed.correction_source.partition(" (")[0]
    corrected = (
        f" Closed {formed.closed_mm:.2f} mm round, {own:.2f} for our own way: {source}." if own else ""
    )
    return (
        f"Groove {groove.radius_mm:.2f} mm: formed {groove.finished_width_mm:.2f} mm wide, edges "
        f"{groove.rise_mm:.2f} mm over the waist, {formed.edge_mm:.2f} mm across, stretched "
        f"{formed.edge_strain_percent:.0f} %, metal {formed.mean_thickness_mm:.2f} mm in the mean. "
        f"The waist may come out up to {formed.shift_mm:.2f} mm smaller round{steps}.{corrected}"
    )


def filed_words(full: Reckoning) -> str:
    """'0.05 mm off inside and outside; cleaning up opens the size by 0.31 mm round'."""
    off = figure_words(full.practice.finishing_allowance_mm, 3)
    faces = " and ".join(faces_filed(full.design))
    return f"{off} mm off {faces}; cleaning up opens the size by {full.opening_mm:.2f} mm round"


def lengths_words(full: Reckoning) -> str:
    """The lengths of the closed ring side by side where they differ by more than 0.1 mm, else ''.

    'Closed 61.53 mm long by the centroid, 62.34 by the mid-line.'
    """
    found = full.lengths
    if not found.beside:
        return ""
    others = ", ".join(f"{length_mm:.2f} {RULES[rule]}" for rule, length_mm in found.beside)
    return f"Closed {found.reckoned_mm:.2f} mm long {RULES[found.rule]}, {others}."


def doubt_words(full: Reckoning) -> str:
    """The measurement worth repeating, 'Measure the finger again on another day.', or nothing."""
    return worth_repeating(full.doubt, full.finger, full.design)
