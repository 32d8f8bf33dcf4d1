"""A knuckle larger than the base of the finger: the ring has to pass over the one and sit on the other."""

from dataclasses import dataclass, replace

from studio.craft.designs import Design, Finger
from studio.craft.fit import fit
from studio.craft.practice import Practice
from studio.craft.sizes import named, nearest
from studio.craft.units import shown_length
from studio.craft.working import Caveat, Input, Notes

_AS_GOOD_AS_MM = 0.3
"""A ring this near to the size between is made between already: half the smallest step of a size."""


@dataclass(frozen=True, slots=True)
class KnuckleAdvice:
    """The circumference between base and knuckle in mm, None where none is called for, and what to heed."""

    between_mm: float | None
    caveats: tuple[Caveat, ...]


_NOTHING = KnuckleAdvice(None, ())


def knuckle_advice(
    finger: Finger, design: Design, circumference_mm: float, practice: Practice, notes: Notes
) -> KnuckleAdvice:
    """What to do about the knuckle of `finger` for a ring of `circumference_mm`.

    Where the knuckle is larger round than the base, with its fit, by `much_mm` or more, the ring is sized
    between: base + share of the difference. Common practice, no source; trade pages say 'choose between, or
    fit sizing beads, or take a hinged shank' and give no figure. A knuckle that is smaller calls for nothing:
    the base is fitted. Base 55, knuckle 59, half of it: 57.
    """
    knuckle = finger.knuckle_circumference_mm
    if knuckle is None:
        return _NOTHING
    over = knuckle + finger.correction_mm
    larger = over - circumference_mm
    if larger <= 0:
        return _NOTHING
    rule = fit(finger, replace(design, fit_mm=None), practice).fit_mm
    base = finger.reckoned_circumference_mm + rule
    terms = practice.knuckle
    words = f"The knuckle is {larger:.2f} mm larger round than the ring."
    between = base + terms.share_percent / 100 * (over - base)
    if over - base < terms.much_mm or circumference_mm >= between - _AS_GOOD_AS_MM:
        message = f"{words} See that the ring passes over it."
        return KnuckleAdvice(None, (Caveat("knuckle", "finger.knuckle", message),))
    notes.note(
        "ring.knuckle_between_mm",
        between,
        "mm",
        "base + share ÷ 100 × (knuckle − base)",
        Input("base", base, "mm"),
        Input("knuckle", over, "mm"),
        Input("share", terms.share_percent, "%"),
        source=practice.source_of("knuckle"),
    )
    near = nearest(finger.system, between, practice.reading.beyond_z)
    label = "" if near is None else f", about {named(finger.system, near.label)}"
    own_fit = shown_length(round(between - finger.reckoned_circumference_mm, 2))
    message = (
        f"{words} Size between them, {between:.2f} mm round{label}: an own fit of {own_fit} mm. "
        "Or leave it to the base with sizing beads or a hinged shank."
    )
    return KnuckleAdvice(between, (Caveat("knuckle", "finger.knuckle", message),))
