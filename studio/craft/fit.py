"""What a ring is made larger than the finger that was measured, by its width and the way of measuring."""

from dataclasses import dataclass

from studio.craft.designs import Design, Finger, Measured
from studio.craft.practice import FitRow, Practice
from studio.craft.units import shown_length
from studio.craft.working import Caveat, Input

_EXACT = 1e-9  # 6.1 less 4.1 is a hair under 2.0 in a computer; it must count as 2


@dataclass(frozen=True, slots=True)
class Fit:
    """The allowance in mm of circumference, why it is that, how it came about, and what to beware of."""

    fit_mm: float
    reason: str
    formula: str
    inputs: tuple[Input, ...]
    caveats: tuple[Caveat, ...]


def allowance_mm(rule: tuple[FitRow, ...], width_mm: float) -> float:
    """What the fit rule adds to the circumference for a ring `width_mm` wide, in mm.

    Rows read 'up to and including': 6 mm wide is +0.5, 6.1 mm +1.0. Common practice, no source; published
    rules run from +0.5 to +2.1 mm at 8 to 10 mm width.
    """
    return next(row.add_mm for row in rule if row.up_to_mm is None or width_mm <= row.up_to_mm + _EXACT)


def fit(finger: Finger, design: Design, practice: Practice) -> Fit:
    """The allowance for `design` on `finger`.

    A fit that was typed is taken as it is. With a gauge within 1 mm of the ring's width it is 0; with
    another gauge, or a ring that was read, rule(ring) - rule(gauge), never below 0 for a gauge; told by the
    customer or with a gauge of unknown width, rule(ring). A ring wider than 4 mm from a gauge more than
    2 mm narrower asks for a reason. Worked: 6 mm ring, 3 mm gauge: 0.5 - 0 = +0.5.
    """
    caveats = _caveats(finger, design, practice)
    if design.fit_mm is not None:
        typed = (Input("fit as typed", design.fit_mm, "mm"),)
        return Fit(design.fit_mm, "typed by us", "fit as typed", typed, caveats)

    width = design.width_mm
    rule = practice.fit_rows(design.profile)
    ring_adds = allowance_mm(rule, width)
    ring_input = Input("allowance of the ring", ring_adds, "mm")
    how, gauge = known_measurement(finger)
    if how is Measured.TOLD:
        return Fit(ring_adds, "told, not measured", "allowance of the ring", (ring_input,), caveats)
    if gauge is None:
        thing = "ring that was read" if how is Measured.RING else "gauge"
        reason = f"the width of the {thing} is not known"
        return Fit(ring_adds, reason, "allowance of the ring", (ring_input,), caveats)
    if how is Measured.GAUGE and abs(width - gauge) <= 1 + _EXACT:
        widths = (Input("width of the ring", width, "mm"), Input("width of the gauge", gauge, "mm"))
        formula = "0 where |width of the ring − width of the gauge| ≤ 1"
        return Fit(0.0, "the gauge is as wide as the ring", formula, widths, caveats)

    gauge_adds = allowance_mm(rule, gauge)
    thing, kind = ("ring that was read", "ring") if how is Measured.RING else ("gauge", "gauge")
    inputs = (
        ring_input,
        Input(f"allowance of the {thing}", gauge_adds, "mm"),
        Input(f"width beyond the {thing}'s", width - gauge, "mm"),
    )
    reason = f"{shown_length(width)} mm wide, from a {shown_length(gauge)} mm {kind}"
    difference = ring_adds - gauge_adds
    formula = f"allowance of the ring − allowance of the {thing}"
    if how is Measured.GAUGE:
        return Fit(max(0.0, difference), reason, f"max(0, {formula})", inputs, caveats)
    return Fit(difference, reason, formula, inputs, caveats)


def known_measurement(finger: Finger) -> tuple[Measured | None, float | None]:
    """How the finger was measured and the width of what it was measured with, in mm.

    Where the way is left out, a gauge width means a gauge.
    """
    how = finger.measured
    if how is None and finger.gauge_width_mm is not None:
        how = Measured.GAUGE
    return how, finger.gauge_width_mm


def _caveats(finger: Finger, design: Design, practice: Practice) -> tuple[Caveat, ...]:
    how, gauge = known_measurement(finger)
    adds = allowance_mm(practice.fit_rows(design.profile), design.width_mm)
    added = "" if design.fit_mm is not None else f" {shown_length(adds)} mm is added for the ring's width."
    if how is Measured.TOLD:
        message = f"The size was told, not measured.{added} Measure the finger before the bench starts."
        return (Caveat("told", "finger.measured", message),)
    if gauge is None:
        thing = "ring that was read" if how is Measured.RING else "gauge"
        message = f"The width of the {thing} is not known.{added}"
        return (Caveat("gauge-unknown", "finger.gauge_width_mm", message),)
    narrower = design.width_mm - gauge
    if how is Measured.GAUGE and design.width_mm > 4 + _EXACT and narrower > 2 + _EXACT:
        message = (
            f"The gauge is {shown_length(narrower)} mm narrower than the ring. "
            "Measure again with a wide one, or say why not."
        )
        return (Caveat("narrow-gauge", "finger.gauge_width_mm", message, needs_reason=True),)
    return ()
