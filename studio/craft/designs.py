"""What a finger measured and what a ring shall be, as chosen at the counter. Lengths in mm."""

from collections.abc import Container
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from studio.craft.alloys import ALLOYS
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.form import BAND, Form, FormKind
from studio.craft.units import shown_length, slip_of


class System(StrEnum):
    """Ring-size systems, in the order they are shown."""

    UK = "uk"
    US = "us"
    ISO = "iso"
    JP = "jp"
    CH = "ch"
    DE = "de"
    HK = "hk"
    IN = "in"


class Measured(StrEnum):
    """How the finger's size is known."""

    GAUGE = "gauge"
    RING = "ring"  # read from a ring that fits
    TOLD = "told"  # said by the customer, not measured


class Hand(StrEnum):
    """Which hand."""

    LEFT = "left"
    RIGHT = "right"


class FingerName(StrEnum):
    """Which finger."""

    THUMB = "thumb"
    INDEX = "index"
    MIDDLE = "middle"
    RING = "ring"
    LITTLE = "little"


class Profile(StrEnum):
    """The ring's section, in the order of the counter's row of drawings."""

    FLAT = "flat"
    HALF_ROUND = "half-round"
    LOW_DOME = "low-dome"
    COURT = "court"
    FLAT_COURT = "flat-court"
    ROUND = "round"
    SQUARE = "square"
    KNIFE_EDGE = "knife-edge"


WIRE_PROFILES = frozenset({Profile.ROUND, Profile.SQUARE})


class Stock(StrEnum):
    """What the blank is cut from: strip filed to the profile, or wire drawn to it."""

    STRIP = "strip"
    WIRE = "wire"


class Pattern(StrEnum):
    """The worked face."""

    PLAIN = "plain"
    HAMMERED = "hammered"
    STAMPED = "stamped"
    ROLLED = "rolled"


class PatternWhen(StrEnum):
    """When the pattern is put on: on the flat strip, or after the ring is closed."""

    FLAT = "flat"
    CLOSED = "closed"


class GaugeKind(StrEnum):
    """What a gauge measures: a set of rings a finger, a stick a ring that fits."""

    SET = "set"
    STICK = "stick"


@dataclass(frozen=True, slots=True)
class Gauge:
    """One of the studio's gauges as it was calibrated when it measured. Lengths in mm.

    `width_mm` is that of the rings of a set; a stick has none. `step_mm` lies between one label and the next,
    and `correction_mm` is added to what the label means, both on the circumference.
    """

    id: int
    name: str
    kind: GaugeKind
    system: System
    width_mm: float | None
    step_mm: float
    correction_mm: float = 0.0
    calibrated_on: date | None = None


@dataclass(frozen=True, slots=True)
class Finger:
    """One measurement of a finger.

    `system` and `label` are kept as given; `circumference_mm` is what they mean. `knuckle_*` is the size
    over the knuckle in the same system. `to_*` is the far end of a size not known yet ('somewhere between J
    and M'): the ring is then drawn and reckoned at that larger end. `gauge` is the studio's that measured it;
    its correction is in none of the circumferences as given. `is_on_two_days` says that a second measure,
    taken on another day, agreed.
    """

    system: System
    label: str
    circumference_mm: float
    measured: Measured | None = None
    gauge_width_mm: float | None = None
    knuckle_label: str | None = None
    knuckle_circumference_mm: float | None = None
    to_label: str | None = None
    to_circumference_mm: float | None = None
    hand: Hand | None = None
    name: FingerName | None = None
    is_warm: bool | None = None
    gauge: Gauge | None = None
    is_on_two_days: bool = False

    @property
    def given_circumference_mm(self) -> float:
        """What the label means that the ring is reckoned for: the larger end of a range, else the size."""
        return self.circumference_mm if self.to_circumference_mm is None else self.to_circumference_mm

    @property
    def correction_mm(self) -> float:
        """What the gauge's calibration adds to every circumference it measured."""
        return 0.0 if self.gauge is None else self.gauge.correction_mm

    @property
    def reckoned_circumference_mm(self) -> float:
        """The circumference the ring is reckoned for: as given, and corrected by the gauge's calibration."""
        return self.given_circumference_mm + self.correction_mm


@dataclass(frozen=True, slots=True)
class Design:
    """One ring as chosen. For round and square wire both sides are the wire's size.

    `stretch_percent` and `fit_mm` are None unless the maker typed them; `pattern_when` is None for plain.
    """

    profile: Profile
    width_mm: float
    thickness_mm: float
    alloy: str
    stock: Stock
    pattern: Pattern = Pattern.PLAIN
    pattern_when: PatternWhen | None = None
    stretch_percent: float | None = None
    fit_mm: float | None = None
    form: Form = BAND


@dataclass(frozen=True, slots=True)
class Limits:
    """The smallest and the largest value that is made, both included."""

    low: float
    high: float


WIDTH_MM = Limits(0.8, 40.0)
THICKNESS_MM = Limits(0.3, 6.0)
WIRE_MM = Limits(0.5, 8.0)
STRETCH_PERCENT = Limits(0.0, 10.0)
FIT_MM = Limits(-5.0, 5.0)
RADIUS_MM, RISE_MM = Limits(0.0, 1000.0), Limits(0.0, 20.0)


def width_limits(profile: Profile) -> Limits:
    """Widths made in this profile, in mm: 0.8 to 40, wire 0.5 to 8."""
    return WIRE_MM if profile in WIRE_PROFILES else WIDTH_MM


def thickness_limits(profile: Profile) -> Limits:
    """Thicknesses made in this profile, in mm: 0.3 to 6, wire 0.5 to 8."""
    return WIRE_MM if profile in WIRE_PROFILES else THICKNESS_MM


def usual_stock(profile: Profile) -> Stock:
    """What a ring of this profile is made of where nothing is said: flat from strip, else its own wire."""
    return Stock.STRIP if profile is Profile.FLAT else Stock.WIRE


def design(
    profile: Profile,
    width_mm: float | None,
    thickness_mm: float | None,
    alloy: str,
    stock: Stock | None = None,
    *,
    pattern: Pattern = Pattern.PLAIN,
    pattern_when: PatternWhen | None = None,
    stretch_percent: float | None = None,
    fit_mm: float | None = None,
    form: Form = BAND,
    alloys: Container[str] = ALLOYS,
) -> Design:
    """The design with these choices, what is left out filled in, as it can be made.

    For round and square wire width and thickness are both the wire's size and either may be None. Stock
    is the usual one of the profile, a pattern goes on flat; a plain ring has neither moment nor stretch.
    `alloys` are the keys there are, the studio's own among them.
    Raises `Refused` with every reason: outside 0.8 to 40 wide, 0.3 to 6 thick or 0.5 to 8 mm wire, unequal
    sides of a wire, an unknown alloy, rolled after closing, stretch outside 0 to 10 %, fit beyond ±5 mm, an
    anticlastic form on a section other than flat, or one that its strip cannot take.
    """
    width_mm, thickness_mm, found = _sides(profile, width_mm, thickness_mm)
    if alloy not in alloys:
        found.append(Refusal("alloy", Why.UNKNOWN_CHOICE, alloy[:24]))
    if pattern is Pattern.PLAIN:
        pattern_when = stretch_percent = None
    elif pattern_when is None:
        pattern_when = PatternWhen.FLAT
    if pattern is Pattern.ROLLED and pattern_when is PatternWhen.CLOSED:
        found.append(Refusal("pattern_when", Why.ROLLED_AFTER_CLOSING))
    found += _outside("stretch_percent", stretch_percent, STRETCH_PERCENT, "%")
    found += _outside("fit_mm", fit_mm, FIT_MM, "mm")
    if form.kind is FormKind.ANTICLASTIC and profile is not Profile.FLAT:
        found.append(Refusal("form.kind", Why.NEEDS_FLAT))
    elif not found and width_mm is not None and thickness_mm is not None:
        form.groove(width_mm, thickness_mm)
    if found or width_mm is None or thickness_mm is None:
        raise Refused(*found)
    return Design(
        profile=profile,
        width_mm=width_mm,
        thickness_mm=thickness_mm,
        alloy=alloy,
        stock=stock or usual_stock(profile),
        pattern=pattern,
        pattern_when=pattern_when,
        stretch_percent=stretch_percent,
        fit_mm=fit_mm,
        form=form,
    )


def _outside(field: str, value: float | None, limits: Limits, unit: str) -> list[Refusal]:
    """The refusal of a value that is not within its limits; NaN is within none."""
    if value is None or limits.low <= value <= limits.high:
        return []
    why = Why.TOO_LARGE if value > limits.high else Why.TOO_SMALL
    slip = slip_of(value, limits.low, limits.high)
    return [Refusal(field, why, shown_length(value), limits.low, limits.high, unit, slip)]


def _sides(
    profile: Profile, width_mm: float | None, thickness_mm: float | None
) -> tuple[float | None, float | None, list[Refusal]]:
    """Both sides, of a wire made equal, and the refusal of each that is wanting or cannot be made."""
    found: list[Refusal] = []
    if profile in WIRE_PROFILES:
        both = [side for side in (width_mm, thickness_mm) if side is not None]
        if len(both) == 2 and abs(both[0] - both[1]) > 1e-6:
            typed = f"{shown_length(both[0])} × {shown_length(both[1])}"
            found.append(Refusal("thickness", Why.WIRE_SIDES_DIFFER, typed, unit="mm"))
        elif both:
            found += _outside("width" if width_mm is not None else "thickness", both[0], WIRE_MM, "mm")
            width_mm = thickness_mm = both[0]
    else:
        found += _outside("width", width_mm, WIDTH_MM, "mm")
        found += _outside("thickness", thickness_mm, THICKNESS_MM, "mm")
    found += [
        Refusal(side, Why.EMPTY)
        for side, value in (("width", width_mm), ("thickness", thickness_mm))
        if value is None
    ]
    return width_mm, thickness_mm, found
