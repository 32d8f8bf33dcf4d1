"""What the trade refuses, as facts. The sentence a reader sees is written in `web/errors.py`."""

from dataclasses import dataclass
from enum import StrEnum


class Why(StrEnum):
    """Why something typed or asked for cannot stand."""

    EMPTY = "empty"
    TOO_LONG = "too long"
    NOT_A_NUMBER = "not a number"
    AMBIGUOUS_COMMA = "ambiguous comma"  # 1,234: a thousand or a fraction?
    UNKNOWN_UNIT = "unknown unit"
    WHICH_GAUGE = "which gauge"  # a gauge number without its scale, where the studio wants to be asked
    NO_SUCH_GAUGE = "no such gauge"  # beyond the table of its scale
    NO_PATTERN = "no pattern"  # a plain ring has no length before and after its pattern
    NO_GAUGE = "no gauge"  # sheet gauges count thicknesses of stock, no other length
    NOT_ABOVE_ZERO = "not above zero"
    TOO_SMALL = "too small"
    TOO_LARGE = "too large"
    UNKNOWN_LABEL = "unknown label"  # the system has no such label
    BELOW_US_ZERO = "below US zero"  # the US scale is not read below 0: type the size in mm instead
    UNKNOWN_CHOICE = "unknown choice"  # not on the list of profiles, alloys, patterns ...
    WIRE_SIDES_DIFFER = "wire sides differ"
    ROLLED_AFTER_CLOSING = "rolled after closing"
    NEEDS_FLAT = "needs flat"  # the form asks for the flat profile
    OUTSIDE_RANGE = "outside range"  # a size measured again, outside the range agreed; `unit` says which
    RANGE_REVERSED = "range reversed"  # the far end of a size range lies below the near one
    DAY_PASSED = "day passed"  # figures hold from today on, or from a day to come
    DAY_TO_COME = "day to come"  # of something that has happened
    CARD_NUMBER = "card number"  # of a payment card: it is kept nowhere
    AVOIDED = "avoided"  # the alloy holds a metal the customer wants to avoid
    PARTS_UNKNOWN = "parts unknown"  # it may hold one: nobody knows what is in it
    WEIGHT_DIFFERS = "weight differs"  # from what the measures give
    NOT_WHOLE = "not whole"  # parts that do not make up the whole
    NAME_TAKEN = "name taken"  # another of its kind has it
    NO_WIDTH = "no width"  # a stick has none
    OTHER_SYSTEM = "other system"  # a gauge that reads another system, `unit`, than the size is given in
    OTHER_WIDTH = "other width"  # a width typed beside a gauge that has its own, `low`
    OTHER_KIND = "other kind"  # a stick for a finger, or a set for a ring; `unit` says which it is
    NOTHING_MEASURED = "nothing measured"  # a gauge beside a size that was told
    NOT_RISING = "not rising"  # a row of a table that is not above the one before, `low`
    GROOVE_IN_THE_METAL = "groove in the metal"  # a radius not above half the metal, `low`
    GROOVE_TOO_TIGHT = "groove too tight"  # the strip reaches round more than half a circle; `low` just does
    RADIUS_AND_RISE = "radius and rise"  # of an anticlastic form: one says the other
    NO_GROOVE = "no groove"  # an anticlastic form with neither
    RISE_TOO_HIGH = "rise too high"  # the same, told by the rise; `high` just does
    HEAVIER_THAN_TAKEN_IN = "heavier than taken in"  # more would go back than came
    OFF_BY_NOTHING = "off by nothing"  # a ring that is right is not off
    NOTHING_MEASURED_HERE = "nothing measured here"  # the step has no figure
    LONGER_THAN_BEFORE = "longer than before"  # than the strip was, `high`
    SHORTER_THAN_BEFORE = "shorter than before"  # than it was before its pattern, `low`
    HEAVIER_THAN_ISSUED = "heavier than issued"  # than the strip that was weighed out, `high`
    NOT_SOLD = "not sold"  # a size the supplier does not cut to; `high` is the next that it does, if any
    OUT_OF_ORDER = "out of order"  # steps before it are not done; `typed` names the first


@dataclass(frozen=True, slots=True)
class Refusal:
    """One thing that cannot stand: where, why, and the facts for the sentence.

    `field` is the path below the ring, such as `width` or `finger.size`. `low` and `high` are in `unit`;
    `suggestion` is a value worth asking for ('Did you mean 6?'). For sizes `unit` is the system's name
    where the label is unknown, 'mm round' where it lies out of range and `typed` is the whole label
    ('US 21'); the suggestion is then a size of another system ('UK N½'). For a gauge or length it is a text
    that can be typed as it stands.
    """

    field: str
    why: Why
    typed: str = ""
    low: float | None = None
    high: float | None = None
    unit: str = ""
    suggestion: str = ""


class Refused(ValueError):
    """Raised by readings and reckonings with all that was found, never with a half result."""

    def __init__(self, *refusals: Refusal) -> None:
        super().__init__("; ".join(f"{r.field}: {r.why}" for r in refusals))
        self.refusals = refusals
