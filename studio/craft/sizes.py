"""Ring-size systems: what a label means in mm of inside circumference, and the label nearest to a ring.

C is the inside circumference, D = C/pi. Rules, each checked against an outside source in tests/outside:
iso C = label (ISO 8653); us D = 11.6332 + 0.8128 n (0.458 in + 0.032 in a size); uk C = 37.5 + 1.25 k with
A as k = 0 (the metric rule of BS 6820), beyond Z as the studio reads it; jp, the customary Japanese number,
D = 13 + (n - 1)/3; ch, also Italy and Spain, C = 40 + n; de D = label; hk and in by table (`size_tables`).
"""

import math
import re
from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache

from studio.craft.designs import System
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.size_tables import TABLES, by_table
from studio.craft.units import LONGEST_TYPED, checked_text, has_ambiguous_comma, read_fraction, shortened

SYSTEM_NAMES: dict[System, str] = {
    System.UK: "UK",
    System.US: "US",
    System.ISO: "ISO",
    System.JP: "JP",
    System.CH: "CH",
    System.DE: "DE",
    System.HK: "HK",
    System.IN: "IN",
}
SMALLEST_MM = 30.0
LARGEST_MM = 90.0
"""Circumferences between which a size can be read, in every system."""

_TIE = 1e-9  # two labels closer together than this are equally near; the larger one is taken
_QUARTERS = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}
_Z = 25
_UK_LABEL = re.compile(r"(?P<letter>[a-z])(?: ?\+ ?(?P<beyond>[0-9]{1,3}))?(?P<rest>.*)")


class BeyondZ(StrEnum):
    """What a number behind Z means: gauges and charts read `Z+1` in three ways."""

    WHOLE = "whole"  # a whole size of 1.25 mm, as the metric rule goes on: Z+1 is 70 mm round
    HALF = "half"  # half a size, by a UK goldsmith's page: Z+1 is Z½, 69.375 mm
    TWO_MM = "two-mm"  # 2 mm a number, by a conversion chart: Z½ 69, Z+1 70, Z+2 72


@dataclass(frozen=True, slots=True)
class ReadSize:
    """A size as read: its label as printed and what it means in mm round."""

    label: str
    circumference_mm: float


@dataclass(frozen=True, slots=True)
class NearestSize:
    """The label nearest to a ring. `error_mm` is the label's circumference less the ring's."""

    label: str
    circumference_mm: float
    error_mm: float


def circumference_mm(system: System, number: float, beyond: BeyondZ = BeyondZ.WHOLE) -> float:
    """Inside circumference of a size number, in mm; for uk the letters count from A as 0, Z+1 is 26.

    us 7: 54.42; uk N½ (13.5): 54.375; jp 10: 50.27; ch 14.5: 54.5; de 17.32: 54.41; iso 54: 54; in 14: 54.4.
    Raises `ValueError` for a number beyond the table of a system that has one.
    """
    if system is System.UK:
        return _uk_mm(number, beyond)
    if system in TABLES:
        found = by_table(TABLES[system], number)
        if found is None:
            raise ValueError(f"{number:g} is beyond the table of {SYSTEM_NAMES[system]}")
        return found
    return _RULES[system](number)


def _uk_mm(number: float, beyond: BeyondZ) -> float:
    past = number - _Z
    if beyond is BeyondZ.HALF and past >= 1:
        past /= 2
    elif beyond is BeyondZ.TWO_MM and past > 0:
        # the chart's own figures begin at Z½ with 69 mm; below it the line from Z
        return 68.0 + 2 * past if past >= 0.5 else 68.75 + 0.5 * past
    return 37.5 + 1.25 * (_Z + past)


_RULES: dict[System, Callable[[float], float]] = {
    System.ISO: lambda n: n,
    System.US: lambda n: math.pi * (11.6332 + 0.8128 * n),
    System.JP: lambda n: math.pi * (13 + (n - 1) / 3),
    System.CH: lambda n: 40 + n,
    System.DE: lambda n: math.pi * n,
}


def read_size(
    system: System,
    typed: str | float,
    field: str = "finger.size",
    beyond: BeyondZ = BeyondZ.WHOLE,
) -> ReadSize:
    """What `typed` means in `system`: `N½ N1/2 N.5 n 1/2 7¼ 7.25 7,25 Z+2`, decimals and fractions.

    The system's own name may stand before the label. Raises `Refused` naming `field` for a label the
    system does not have (with the system that has it, if one does), a US number below 0, or a size
    outside 30 to 90 mm round. `beyond` is how the studio reads a number behind Z.
    """
    if isinstance(typed, bool):
        raise Refused(Refusal(field, Why.UNKNOWN_LABEL, str(typed), unit=SYSTEM_NAMES[system]))
    typed = str(typed)
    text = checked_text(typed, field)
    if has_ambiguous_comma(text):
        raise Refused(Refusal(field, Why.AMBIGUOUS_COMMA, shortened(typed)))
    text = text.removeprefix(system.value).strip() or text
    number = _uk_number(text) if system is System.UK else read_fraction(text)
    if system is System.US and (re.fullmatch(r"0{2,}", text) or (number is not None and number < 0)):
        raise Refused(Refusal(field, Why.BELOW_US_ZERO, shortened(typed), low=0, unit="US"))
    if number is None or number < 0 or not _has(system, number):
        elsewhere = _elsewhere(system, text, System.UK, System.ISO, System.DE)
        raise Refused(
            Refusal(
                field, Why.UNKNOWN_LABEL, shortened(typed), unit=SYSTEM_NAMES[system], suggestion=elsewhere
            )
        )
    circumference = circumference_mm(system, float(number), beyond)
    if not SMALLEST_MM <= circumference <= LARGEST_MM:
        why = Why.TOO_SMALL if circumference < SMALLEST_MM else Why.TOO_LARGE
        # A number too large for its system is often the mm round, one too small for mm round the diameter.
        elsewhere = _elsewhere(system, text, System.DE if why is Why.TOO_SMALL else System.ISO)
        label = shortened(named(system, printed(system, number)))
        raise Refused(Refusal(field, why, label, SMALLEST_MM, LARGEST_MM, "mm round", elsewhere))
    return ReadSize(printed(system, number), circumference)


def printed(system: System, number: Fraction) -> str:
    """The label of a size number as it is printed: `7¼`, `N½`, `Z+2`, `54.4`."""
    if system is System.UK:
        whole = math.floor(number)
        letter = chr(ord("A") + whole) if whole <= _Z else f"Z+{whole - _Z}"
        return letter + _QUARTERS.get(number - whole, "")
    whole = math.floor(number)
    rest = number - whole
    if not rest:
        return str(whole)
    if rest in _QUARTERS:
        return f"{whole or ''}{_QUARTERS[rest]}"
    for decimals in range(1, LONGEST_TYPED):
        if 10**decimals % rest.denominator == 0:
            return f"{whole}.{rest.numerator * 10**decimals // rest.denominator:0{decimals}d}"
    return f"{whole} {rest.numerator}/{rest.denominator}" if whole else f"{rest.numerator}/{rest.denominator}"


def nearest(system: System, circumference: float, beyond: BeyondZ = BeyondZ.WHOLE) -> NearestSize | None:
    """The label of `system` nearest to a ring of `circumference` mm; a tie goes to the larger label.

    Printed are iso whole 41 to 76, us quarters 0 to 16, uk halves A to Z then whole Z+1 and on, jp whole 1
    to 35, ch halves 1 to 36, de quarters of a mm 12½ to 24½, hk whole 6 to 30, in whole 1 to 31. More than
    half a step beyond its list a system has none. 55.625 mm is ISO 56, 0.375 mm larger.
    """
    values, labels = _uk_list(beyond) if system is System.UK else _LISTS[system]
    place = bisect_left(values, circumference)
    if place == 0:
        reach = (values[1] - values[0]) / 2
        if values[0] - circumference > reach + _TIE:
            return None
    elif place == len(values):
        place -= 1
        reach = (values[-1] - values[-2]) / 2
        if circumference - values[-1] > reach + _TIE:
            return None
    elif circumference - values[place - 1] < values[place] - circumference - _TIE:
        place -= 1
    return NearestSize(labels[place], values[place], values[place] - circumference)


def all_sizes(circumference: float, beyond: BeyondZ = BeyondZ.WHOLE) -> dict[System, NearestSize | None]:
    """The nearest label of every system, in the order they are shown."""
    return {system: nearest(system, circumference, beyond) for system in System}


def named(system: System, label: str) -> str:
    """A size with its system: `UK O½`, `US 7¼`."""
    return f"{SYSTEM_NAMES[system]} {label}"


def _uk_number(text: str) -> Fraction | None:
    """Whole steps above A of a UK letter with its halves or quarters, else None."""
    found = _UK_LABEL.fullmatch(text)
    if found is None or (found["beyond"] and found["letter"] != "z"):
        return None
    number = Fraction(ord(found["letter"]) - ord("a"))
    if found["beyond"]:
        if not int(found["beyond"]):
            return None
        number += int(found["beyond"])
    rest = found["rest"].strip()
    if rest:
        part = read_fraction(rest)
        if rest[0] in "+-" or part is None or part not in {*_QUARTERS, Fraction(0)}:
            return None
        number += part
    return number


def _has(system: System, number: Fraction) -> bool:
    """Whether a system by table reaches as far as this number; the others go on for ever."""
    return system not in TABLES or by_table(TABLES[system], float(number)) is not None


def _elsewhere(system: System, text: str, *others: System) -> str:
    """The size that `text` would be in one of `others`, where one is plainly meant, else nothing."""
    for other in others:
        if other is system:
            continue
        number = _uk_number(text) if other is System.UK else read_fraction(text)
        if number is not None and SMALLEST_MM <= circumference_mm(other, float(number)) <= LARGEST_MM:
            return named(other, printed(other, number))
    return ""


def _listed(system: System, numbers: list[Fraction]) -> tuple[tuple[float, ...], tuple[str, ...]]:
    return (
        tuple(circumference_mm(system, float(number)) for number in numbers),
        tuple(printed(system, number) for number in numbers),
    )


def _steps(first: int, last: int, per_step: int) -> list[Fraction]:
    """`first` to `last`, both counted in parts of a step."""
    return [Fraction(part, per_step) for part in range(first, last + 1)]


_LISTS = {
    System.ISO: _listed(System.ISO, _steps(41, 76, 1)),
    System.US: _listed(System.US, _steps(0, 16 * 4, 4)),
    System.JP: _listed(System.JP, _steps(1, 35, 1)),
    System.CH: _listed(System.CH, _steps(2, 36 * 2, 2)),
    System.DE: _listed(System.DE, _steps(50, 98, 4)),
    System.HK: _listed(System.HK, _steps(6, 30, 1)),
    System.IN: _listed(System.IN, _steps(1, 31, 1)),
}
# The largest ring is 95 mm round, a finger of 90 with a fit of 5; the labels go one step further.
_BEYOND_Z = {BeyondZ.WHOLE: 22, BeyondZ.HALF: 43, BeyondZ.TWO_MM: 14}


@cache
def _uk_list(beyond: BeyondZ) -> tuple[tuple[float, ...], tuple[str, ...]]:
    numbers = _steps(0, _Z * 2, 2) + _steps(_Z + 1, _Z + _BEYOND_Z[beyond], 1)
    return (
        tuple(circumference_mm(System.UK, float(number), beyond) for number in numbers),
        tuple(printed(System.UK, number) for number in numbers),
    )
