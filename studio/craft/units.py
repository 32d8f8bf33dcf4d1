"""What people type and what the book keeps: lengths, gauges, plain numbers. Inside, all is mm and g.

pint converts what is typed in another unit than mm; no formula ever touches it.
"""

import re
import unicodedata
from fractions import Fraction
from functools import cache

from studio.craft.errors import Refusal, Refused, Why
from studio.craft.sheet_gauges import BareGauge, GaugeScale, read_gauge_number

MM_PER_INCH = 25.4
MM_PER_CM = 10.0
GRAIN_G = 0.06479891
PENNYWEIGHT_G = 1.55517384
TROY_OUNCE_G = 31.1034768
METRIC_CARAT_G = 0.2
"""All exact by definition: inch and grain by the yard and pound agreement of 1959, 24 grains a pennyweight,
20 pennyweights a troy ounce; the tests hold them against pint."""

LONGEST_TYPED = 40
"""Signs a number may have. Nobody types a longer one on purpose, and no float overflows on so many."""

_UNIT_WORDS = {
    "": "", "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in", "''": "in",
    "ga": "ga", "ga.": "ga", "gauge": "ga",
    "ga b&s": "bs", "gauge b&s": "bs", "b&s": "bs", "awg": "bs",
    "swg": "swg", "ga swg": "swg", "gauge swg": "swg", "bwg": "bwg", "ga bwg": "bwg", "gauge bwg": "bwg",
}  # fmt: skip
_SCALES = {"ga": None, "bs": GaugeScale.BS, "swg": GaugeScale.SWG, "bwg": GaugeScale.BWG}
_VULGAR = {sign: f" {n}/{d}" for sign, n, d in (
    ("½", 1, 2), ("¼", 1, 4), ("¾", 3, 4), ("⅓", 1, 3), ("⅔", 2, 3),
    ("⅛", 1, 8), ("⅜", 3, 8), ("⅝", 5, 8), ("⅞", 7, 8),
)}  # fmt: skip
_LOOKALIKES = {"−": "-", "–": "-", "⁄": "/", "∕": "/", "”": '"', "“": '"', "″": '"', "’": "'", "′": "'"}
_GRAMS = {
    "": 1.0, "g": 1.0, "gram": 1.0, "grams": 1.0, "gramme": 1.0, "grammes": 1.0, "mg": 0.001, "kg": 1000.0,
    "ct": METRIC_CARAT_G, "carat": METRIC_CARAT_G, "carats": METRIC_CARAT_G,
    "gr": GRAIN_G, "grain": GRAIN_G, "grains": GRAIN_G,
    "dwt": PENNYWEIGHT_G, "pennyweight": PENNYWEIGHT_G, "pennyweights": PENNYWEIGHT_G,
    "ozt": TROY_OUNCE_G, "oz t": TROY_OUNCE_G, "troy oz": TROY_OUNCE_G, "troy ounce": TROY_OUNCE_G,
}  # fmt: skip
"""Weights by the words they are typed with. An ounce that is not called troy is asked about."""
_NUMBER = re.compile(
    r"(?P<sign>[+-]?) ?(?:"
    r"(?P<whole>[0-9]+) (?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    r"|(?P<over>[0-9]+)/(?P<under>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)"
    r")"
)
_LENGTH = re.compile(r"(?P<number>[+-]? ?[0-9.,/ ]*[0-9.,]) ?(?P<unit>[^0-9]+)?")
_AMBIGUOUS = re.compile(r"[0-9],[0-9]{3}(?![0-9])")


@cache
def _mm_per(unit: str) -> float:
    """How many mm a unit has; pint is loaded by the first that is asked for, and takes its time."""
    import pint  # noqa: PLC0415  as said above

    registry: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
    return float(registry.Quantity(1, unit).to("mm").magnitude)


def tidied(typed: str) -> str:
    """`typed` as the readers want it: one alphabet, single spaces, lower case, fractions written out.

    Vulgar fractions are spelt out first, since full-width folding alone would make 71/4 of `7¼`.
    """
    for sign, spelt in _VULGAR.items():
        typed = typed.replace(sign, spelt)
    for sign, plain in _LOOKALIKES.items():
        typed = typed.replace(sign, plain)
    typed = unicodedata.normalize("NFKC", typed)
    for sign, plain in _LOOKALIKES.items():
        typed = typed.replace(sign, plain)
    return " ".join(typed.split()).lower()


def shortened(typed: str) -> str:
    """`typed` as a refusal may quote it: its first 24 signs."""
    text = typed[:100].strip()
    return text if len(text) <= 24 else f"{text[:24]}…"


def read_fraction(text: str) -> Fraction | None:
    """The number that `text` (tidied) spells: `6`, `6.5`, `6,5`, `6 1/2`, `1/4`, `-0.5`; else None."""
    found = _NUMBER.fullmatch(text)
    if found is None:
        return None
    if found["decimal"] is not None:
        size = Fraction(f"0{found['decimal'].replace(',', '.')}".rstrip("."))
    elif found["over"] is not None:
        if not int(found["under"]):
            return None
        size = Fraction(int(found["over"]), int(found["under"]))
    else:
        if not int(found["bottom"]):
            return None
        size = int(found["whole"]) + Fraction(int(found["top"]), int(found["bottom"]))
    return -size if found["sign"] == "-" else size


def checked_text(typed: str, field: str) -> str:
    """`typed` tidied; raises `Refused` when it is empty or longer than anybody types."""
    if len(typed) > LONGEST_TYPED:
        raise Refused(Refusal(field, Why.TOO_LONG, shortened(typed), high=LONGEST_TYPED, unit="signs"))
    text = tidied(typed)
    if not text:
        raise Refused(Refusal(field, Why.EMPTY))
    return text


def has_ambiguous_comma(text: str) -> bool:
    """Whether a comma stands before exactly three digits, as in `1,234`: a thousand, or a fraction?"""
    return _AMBIGUOUS.search(text) is not None


def read_length(
    typed: str | float, field: str, *, low_mm: float, high_mm: float, gauge: BareGauge | None = BareGauge.BS
) -> float:
    """The length `typed` means, in mm: `6`, `6 mm`, `6,5`, `0.6 cm`, `1/4 in`, `0.25"`, `18 ga`, `18 swg`.

    A bare number is mm, a gauge without its scale goes by `gauge`, and what is no stock takes no gauge
    number (`gauge` None). `0.25 in` is 6.35 mm, `18 ga` 1.0237 mm by B&S. Raises `Refused` naming `field` for
    what is no length, stands with a comma before exactly three digits, or lies outside `low_mm` to
    `high_mm`; a slip of the decimal point is suggested.
    """
    if not isinstance(typed, str):
        value = _plain(typed, field)
        return _in_range(value, f"{value:g}", field, low=low_mm, high=high_mm)
    text = checked_text(typed, field)
    found = _LENGTH.fullmatch(text)
    if found is None:
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, shortened(typed)))
    unit = _UNIT_WORDS.get((found["unit"] or "").strip())
    if unit is None:
        raise Refused(Refusal(field, Why.UNKNOWN_UNIT, shortened(typed)))
    is_gauge = unit in _SCALES
    if is_gauge and gauge is None:
        raise Refused(Refusal(field, Why.NO_GAUGE, shortened(typed)))
    if has_ambiguous_comma(found["number"]):
        raise Refused(Refusal(field, Why.AMBIGUOUS_COMMA, shortened(typed)))
    if is_gauge and gauge is not None:
        thick = read_gauge_number(found["number"], _SCALES[unit], shortened(typed), field, bare=gauge)
        return _in_range(thick, shortened(typed), field, low=low_mm, high=high_mm, typed_unit=unit)
    number = read_fraction(found["number"].strip())
    if number is None:
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, shortened(typed)))
    mm = float(number) * (_mm_per(unit) if unit not in {"", "mm"} else 1.0)
    return _in_range(mm, shortened(typed), field, low=low_mm, high=high_mm, typed_unit=unit)


def bare_gauge_number(typed: str) -> int | None:
    """The gauge number of `18 ga`, typed without its scale; None for anything else."""
    found = _LENGTH.fullmatch(tidied(typed[:LONGEST_TYPED]))
    if found is None or _UNIT_WORDS.get((found["unit"] or "").strip()) != "ga":
        return None
    number = found["number"].strip()
    return int(number) if re.fullmatch(r"[0-9]{1,2}", number) else None


def read_number(typed: str | float, field: str, *, low: float, high: float, unit: str = "") -> float:
    """The plain number `typed` means, as `1.5`, `1,5`, `1 1/2`, with `unit` or its sign behind it or not.

    Raises `Refused` naming `field` as `read_length` does.
    """
    if not isinstance(typed, str):
        value = _plain(typed, field)
        return _in_range(value, f"{value:g}", field, low=low, high=high, unit=unit)
    text = checked_text(typed, field)
    if has_ambiguous_comma(text):
        raise Refused(Refusal(field, Why.AMBIGUOUS_COMMA, shortened(typed)))
    number = read_fraction(text.removesuffix(unit.lower()).strip() if unit else text)
    if number is None:
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, shortened(typed)))
    return _in_range(float(number), shortened(typed), field, low=low, high=high, unit=unit)


def read_mass(typed: str | float, field: str, *, low_g: float, high_g: float) -> float:
    """The weight `typed` means, in g: `4.2`, `4,2 g`, `850 mg`, `1.5 ct`, `3 dwt`, `1/4 ozt`.

    A bare number is g; `1.5 ct` is 0.3 g. Raises `Refused` naming `field` as `read_length` does.
    """
    if not isinstance(typed, str):
        value = _plain(typed, field)
        return _in_range(value, f"{value:g}", field, low=low_g, high=high_g, unit="g", typed_unit="g")
    text = checked_text(typed, field)
    found = _LENGTH.fullmatch(text)
    if found is None:
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, shortened(typed)))
    unit = (found["unit"] or "").strip()
    if unit not in _GRAMS:
        raise Refused(Refusal(field, Why.UNKNOWN_UNIT, shortened(typed), unit="g"))
    if has_ambiguous_comma(found["number"]):
        raise Refused(Refusal(field, Why.AMBIGUOUS_COMMA, shortened(typed)))
    number = read_fraction(found["number"].strip())
    if number is None:
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, shortened(typed)))
    value = float(number) * _GRAMS[unit]
    return _in_range(value, shortened(typed), field, low=low_g, high=high_g, unit="g", typed_unit="g")


def figure_words(value: float, decimals: int = 2) -> str:
    """A figure without idle zeros: 6.0 gives `6`, 1.50 gives `1.5`, 3.25 stays, 2.0009 gives `2`."""
    text = f"{value:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def shown_length(mm: float) -> str:
    """`mm` as a field shows it, to the micrometre without idle zeros; it reads back to the same length."""
    return figure_words(mm, 3)


def to_micrometres(mm: float) -> int:
    """`mm` as the book stores it: whole micrometres."""
    return round(mm * 1000)


def from_micrometres(micrometres: int) -> float:
    """The length in mm from the book's whole micrometres."""
    return micrometres / 1000


def to_milligrams(g: float) -> int:
    """`g` as the book stores it: whole milligrams."""
    return round(g * 1000)


def from_milligrams(milligrams: int) -> float:
    """The weight in g from the book's whole milligrams."""
    return milligrams / 1000


def _plain(typed: float, field: str) -> float:
    """A number that came as a number: no yes or no, no NaN, nothing without end."""
    if isinstance(typed, bool) or typed != typed:  # noqa: PLR0124  only NaN differs from itself
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, str(typed)))
    bound = 1e12  # an int of a thousand digits must not be made a float first
    return float(max(-bound, min(bound, typed)))


def _in_range(
    value: float, quoted: str, field: str, *, low: float, high: float, unit: str = "mm", typed_unit: str = ""
) -> float:
    if low <= value <= high:
        return value
    if value <= 0 < low:
        raise Refused(Refusal(field, Why.NOT_ABOVE_ZERO, quoted, low, high, unit))
    why = Why.TOO_SMALL if value < low else Why.TOO_LARGE
    raise Refused(Refusal(field, why, quoted, low, high, unit, slip_of(value, low, high, typed_unit)))


def slip_of(value: float, low: float, high: float, typed_unit: str = "") -> str:
    """What was probably meant by a value out of range: `6` for 60 when a tenth of it fits, else nothing."""
    if typed_unit == "in" and low <= value / MM_PER_INCH <= high:
        return f"{shown_length(value / MM_PER_INCH)} mm"
    if typed_unit in {"", "mm"} and value > 0:
        slip = value / 10 if value > high else value * 10
        if low <= slip <= high:
            return shown_length(slip)
    return ""
