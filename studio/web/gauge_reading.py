"""Which of the studio's gauges took a measure: read by its number or its name, and held against the rest."""

from collections.abc import Sequence
from dataclasses import replace

from studio.craft.designs import Finger, Gauge, GaugeKind, Measured
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.sizes import SYSTEM_NAMES
from studio.craft.units import shortened

_MEASURES = {GaugeKind.SET: Measured.GAUGE, GaugeKind.STICK: Measured.RING}
_SAME_MM = 1e-6
_FAR = 10**12  # beyond the number of any gauge


def read_gauge(value: object, field: str, gauges: Sequence[Gauge]) -> Gauge | None:
    """The gauge of this number (3 or '3') or name ('wide set'); None where nothing is given.

    Raises `Refused` for one that is not among `gauges`.
    """
    if value is None:
        return None
    if isinstance(value, str) or (type(value) is int and 0 < value < _FAR):
        typed = " ".join(str(value)[:100].split()).casefold()
        for gauge in gauges:
            if typed in {str(gauge.id), gauge.name.casefold()}:
                return gauge
    raise Refused(Refusal(field, Why.UNKNOWN_CHOICE, shortened(value) if isinstance(value, str) else ""))


def measured_with(finger: Finger, gauge: Gauge | None, path: str) -> Finger:
    """The finger as `gauge` measured it: a set tells its width, and each kind what it measures.

    Raises `Refused` where the gauge reads another system, has another width than was typed, or measures
    otherwise than was said.
    """
    if gauge is None:
        return finger
    found = []
    how = finger.measured or _MEASURES[gauge.kind]
    width = finger.gauge_width_mm if gauge.width_mm is None else gauge.width_mm
    if how is Measured.TOLD:
        found.append(Refusal(f"{path}.gauge", Why.NOTHING_MEASURED))
    elif how is not _MEASURES[gauge.kind]:
        found.append(Refusal(f"{path}.gauge", Why.OTHER_KIND, unit=gauge.kind))
    if gauge.system is not finger.system:
        found.append(Refusal(f"{path}.gauge", Why.OTHER_SYSTEM, unit=SYSTEM_NAMES[gauge.system]))
    typed = finger.gauge_width_mm
    if gauge.width_mm is not None and typed is not None and abs(typed - gauge.width_mm) > _SAME_MM:
        found.append(Refusal(f"{path}.gauge_width_mm", Why.OTHER_WIDTH, low=gauge.width_mm))
    if found:
        raise Refused(*found)
    return replace(finger, measured=how, gauge_width_mm=width, gauge=gauge)
