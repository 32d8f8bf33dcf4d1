"""Gauge numbers of sheet and wire: a thickness by number, by three scales that share the numbers.

18 gauge is 1.02 mm by Brown & Sharpe, 1.22 by the British standard wire gauge and 1.24 by Birmingham's, so a
number without its scale is a question.
"""

import math
import re
from collections.abc import Mapping, Sequence
from enum import StrEnum

from studio.craft.errors import Refusal, Refused, Why

_MM_PER_INCH = 25.4
_LAST = 36


class GaugeScale(StrEnum):
    """Whose numbers."""

    BS = "bs"  # Brown & Sharpe, the American wire gauge: the trade's own for sheet of precious metal
    SWG = "swg"  # the British imperial standard wire gauge
    BWG = "bwg"  # Birmingham or Stubs' iron wire gauge


SCALE_NAMES: Mapping[GaugeScale, str] = {
    GaugeScale.BS: "B&S",
    GaugeScale.SWG: "SWG",
    GaugeScale.BWG: "BWG",
}


GAUGE_SOURCES: Mapping[GaugeScale, str] = {
    GaugeScale.BS: "ASTM B258, the American wire gauge",
    GaugeScale.SWG: "table of the imperial standard wire gauge",
    GaugeScale.BWG: "table of the Birmingham wire gauge",
}


class BareGauge(StrEnum):
    """What `18 ga`, without a scale, means to the studio."""

    BS = "bs"
    SWG = "swg"
    BWG = "bwg"
    ASK = "ask"


class PrintedGauge(StrEnum):
    """Which gauge number stands beside a thickness of stock on papers."""

    NONE = "none"
    BS = "bs"
    SWG = "swg"
    BWG = "bwg"


_SWG_IN = (
    0.324, 0.3, 0.276, 0.252, 0.232, 0.212, 0.192, 0.176, 0.16, 0.144, 0.128, 0.116, 0.104, 0.092, 0.08,
    0.072, 0.064, 0.056, 0.048, 0.04, 0.036, 0.032, 0.028, 0.024, 0.022, 0.02, 0.018, 0.0164, 0.0148, 0.0136,
    0.0124, 0.0116, 0.0108, 0.01, 0.0092, 0.0084, 0.0076,
)  # fmt: skip
_BWG_IN = (
    0.34, 0.3, 0.284, 0.259, 0.238, 0.22, 0.203, 0.18, 0.165, 0.148, 0.134, 0.12, 0.109, 0.095, 0.083,
    0.072, 0.065, 0.058, 0.049, 0.042, 0.035, 0.032, 0.028, 0.025, 0.022, 0.02, 0.018, 0.016, 0.014, 0.013,
    0.012, 0.01, 0.009, 0.008, 0.007, 0.005, 0.004,
)  # fmt: skip
# Numbers 0 to 36 in inches, as engineers' handbooks print them; 14 and 26 of both from memory.


def gauge_mm(number: int, scale: GaugeScale = GaugeScale.BS) -> float:
    """Thickness in mm of a gauge number; 00, 000 and 0000 of Brown & Sharpe are -1, -2, -3.

    B&S: 0.127 mm x 92^((36 - n)/39), ASTM B258; SWG and BWG by their tables, 0 to 36. 18 is 1.0237 mm by B&S,
    1.2192 by SWG, 1.2446 by BWG. Raises `ValueError` for a number beyond the table.
    """
    if scale is GaugeScale.BS:
        return 0.127 * math.pow(92.0, (36 - number) / 39)
    if not 0 <= number <= _LAST:
        raise ValueError(f"{SCALE_NAMES[scale]} has no {number}")
    return (_SWG_IN if scale is GaugeScale.SWG else _BWG_IN)[number] * _MM_PER_INCH


def nearest_gauge(thick_mm: float, scale: GaugeScale) -> tuple[int, float]:
    """The gauge number nearest to a thickness, and its mm. 1.4 mm: B&S 15 (1.450), SWG 17 (1.422)."""
    numbers = range(-3 if scale is GaugeScale.BS else 0, _LAST + 1)
    number = min(numbers, key=lambda one: abs(gauge_mm(one, scale) - thick_mm))
    return number, gauge_mm(number, scale)


def gauge_words(thick_mm: float, scale: GaugeScale) -> str:
    """The nearest gauge in words: 'B&S 15, 1.45 mm'."""
    number, mm = nearest_gauge(thick_mm, scale)
    return f"{scale_words(number, scale)}, {mm:.2f} mm"


def scale_words(number: int, scale: GaugeScale) -> str:
    """A gauge as it is written: 'B&S 15', and beyond 0 'B&S 2/0'."""
    return f"{SCALE_NAMES[scale]} {number if number >= 0 else f'{1 - number}/0'}"


def read_gauge_number(
    number: str, scale: GaugeScale | None, quoted: str, field: str, *, bare: BareGauge = BareGauge.BS
) -> float:
    """The thickness in mm of a gauge as typed: `18`, `0`, `00`, `2/0`; `scale` None goes by `bare`.

    Raises `Refused` naming `field` for what is no gauge number, one that its scale does not have, and one
    without a scale where the studio wants to be asked, with what it is by each.
    """
    place = _place(number.strip())
    if place is None:
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, quoted))
    if scale is None and bare is BareGauge.ASK and place >= 0:
        raise Refused(Refusal(field, Why.WHICH_GAUGE, quoted, suggestion=by_each(place)))
    meant = scale or GaugeScale(GaugeScale.BS if bare is BareGauge.ASK else bare)
    if meant is not GaugeScale.BS and not 0 <= place <= _LAST:
        raise Refused(Refusal(field, Why.NO_SUCH_GAUGE, quoted, 0, _LAST, SCALE_NAMES[meant]))
    return gauge_mm(place, meant)


def by_each(number: int, scales: Sequence[GaugeScale] = tuple(GaugeScale)) -> str:
    """What a number is by each scale: '1.02 mm by B&S, 1.22 by SWG, 1.24 by BWG'."""
    told = [
        f"{gauge_mm(number, scale):.2f}{'' if place else ' mm'} by {SCALE_NAMES[scale]}"
        for place, scale in enumerate(scales)
        if scale is GaugeScale.BS or 0 <= number <= _LAST
    ]
    return ", ".join(told)


def _place(number: str) -> int | None:
    """Where a number stands on its scale: 18, 00 as -1, 3/0 as -2; None for what is no gauge number."""
    if re.fullmatch(r"0{2,4}", number):
        return 1 - len(number)
    slashed = re.fullmatch(r"([2-4])/0", number)
    if slashed:
        return 1 - int(slashed[1])
    return int(number) if re.fullmatch(r"[0-9]{1,2}", number) else None
