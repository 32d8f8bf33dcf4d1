"""Reading one measurement of a finger, for a page's form and for the API."""

from studio.book.ring_practices import Workshop
from studio.craft.designs import Finger, FingerName, Hand, Limits, Measured, System
from studio.craft.errors import Why
from studio.craft.sizes import ReadSize, read_size
from studio.web.gauge_reading import measured_with, read_gauge
from studio.web.reading import Reading, measured, sure

GAUGE_MM = Limits(0.5, 40.0)
"""The widths of gauges, and of rings that a size is read from."""


def read_finger(
    raw: object,
    path: str,
    *,
    usual_system: System | None = System.UK,
    workshop: Workshop,
) -> Finger:
    """One measurement of a finger: system and size, and what else is known of it.

    `usual_system` is the system where none is given; None asks for one. `workshop` has the gauges that
    may have measured it, by number or name in the field `gauge`, and how the studio reads numbers behind Z.
    """
    finger = Reading(raw, path)
    system = finger.choice("system", System)
    if not finger.has("system"):
        system = usual_system
        if system is None:
            finger.add("system", "The size system is not given yet.")

    def size(value: object, field: str) -> ReadSize | None:
        if value is None or system is None:
            return None
        return read_size(system, measured(value, field), field, workshop.practice.reading.beyond_z)

    base = finger.needed("size", size, "size")
    knuckle, largest = finger.read("knuckle", size), finger.read("size_to", size)
    if base is not None and largest is not None and largest.circumference_mm < base.circumference_mm:
        finger.refuse("size_to", Why.RANGE_REVERSED, largest.label)
    if base is not None and largest is not None and largest.circumference_mm == base.circumference_mm:
        largest = None  # from a size to the same size is no range: the size is known
    how, width = finger.choice("measured", Measured), finger.length("gauge_width_mm", GAUGE_MM)
    gauge = finger.read("gauge", lambda value, field: read_gauge(value, field, workshop.gauges))
    hand, name, is_warm = finger.choice("hand", Hand), finger.choice("name", FingerName), finger.yes("warm")
    is_on_two_days = finger.yes("two_days") or False
    finger.stop()
    told = Finger(
        system=sure(system),
        label=sure(base).label,
        circumference_mm=sure(base).circumference_mm,
        measured=how,
        gauge_width_mm=width,
        knuckle_label=knuckle.label if knuckle else None,
        knuckle_circumference_mm=knuckle.circumference_mm if knuckle else None,
        to_label=largest.label if largest else None,
        to_circumference_mm=largest.circumference_mm if largest else None,
        hand=hand,
        name=name,
        is_warm=is_warm,
        is_on_two_days=is_on_two_days,
    )
    made = finger.found.take(lambda: measured_with(told, gauge, path))
    finger.stop()
    return sure(made)
