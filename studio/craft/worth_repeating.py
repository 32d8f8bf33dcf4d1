"""The measurement worth repeating: which cause leaves most open on a size, and what to do about it."""

from studio.craft.designs import Design, Finger, Measured
from studio.craft.doubt import CALIBRATION, CUT, DAY, SHIFT, STEP, STRETCH, THICKNESS, Doubt
from studio.craft.fit import known_measurement
from studio.craft.units import figure_words

_NEAR_WIDTH_MM = 1.0
"""A gauge this near in width to the ring measures as the ring will sit: common practice, no source."""
_SHARE = 0.02
"""A cause below this part of a mm is none that repeating would mend."""
_MADE = {
    THICKNESS: "Measure the thickness of the strip again before it is marked.",
    CUT: "Measure the length again once the ends are squared.",
    STRETCH: "Measure the strip before and after its pattern.",
    SHIFT: "Bend a trial in copper and measure its waist.",
}

_MEASURED = {
    STEP: "Measure the finger again with a gauge of finer steps.",
    CALIBRATION: "Check the gauge, and measure the finger again.",
    DAY: "Measure the finger again, with warm and with cold hands.",
}


def worth_repeating(doubt: Doubt, finger: Finger, design: Design) -> str:
    """What to measure again, in one sentence; '' where nothing is in doubt.

    A size that was told is to be measured, whatever else is in doubt. Where the measuring leaves most open, a
    gauge as wide as the ring comes first, then another day, then finer steps; where the making does, the
    bench is told what to measure.
    """
    how, width_mm = known_measurement(finger)
    if how is Measured.TOLD:
        return "Have the finger measured rather than told."
    largest = doubt.largest
    if largest.sd_mm < _SHARE:
        return ""
    if largest.cause in _MADE:
        return _MADE[largest.cause]
    if width_mm is None or abs(width_mm - design.width_mm) > _NEAR_WIDTH_MM:
        wide = figure_words(design.width_mm)
        return f"Measure the finger again with a gauge nearer to the ring's {wide} mm."
    if not finger.is_on_two_days and largest.cause in {STEP, DAY}:
        return "Measure the finger again on another day."
    return _MEASURED[largest.cause]
