"""What the reader is told: one sentence for each thing the trade or the book refuses."""

import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from starlette.exceptions import HTTPException

from studio.craft.errors import Refusal, Refused, Why
from studio.craft.units import figure_words
from studio.web.bench_sentences import BENCH_SENTENCES
from studio.web.echo import echo
from studio.web.things import THE_THING

T = TypeVar("T")


_MEASURES = {"set": "a finger, not a ring", "stick": "a ring, not a finger"}
_OF_A_SIZE = frozenset({"size", "knuckle", "size_to"})
_ENDLESS = re.compile(r"-?[0-9.]+e[+-]?[0-9]+", re.IGNORECASE)
"""How a number is written whose places nobody would count."""
_ABOVE = {"width": "wider than a ring", "thickness": "thicker than a ring"}
_BELOW = {"width": "narrower than a ring", "thickness": "thinner than a ring"}


@dataclass(frozen=True, slots=True)
class FieldError:
    """One thing to put right: its field ('rings.0.width', None for the whole) and the sentence."""

    field: str | None
    message: str


class FieldErrors(ValueError):
    """Raised by readers of fields with everything that is to be put right, never with half of it."""

    def __init__(self, errors: Iterable[FieldError]) -> None:
        self.errors = tuple(errors)
        super().__init__("; ".join(f"{error.field}: {error.message}" for error in self.errors))

    @property
    def by_field(self) -> dict[str, str]:
        """The sentence beside each field; a field with two has the first."""
        found: dict[str, str] = {}
        for error in self.errors:
            found.setdefault(error.field or "", error.message)
        return found


class Declined(HTTPException):
    """The request is answered with `status` and these sentences; 409 adds how things stand as `current`.

    `title` heads the page where the status alone would not say what is the matter.
    """

    def __init__(
        self,
        status: int,
        message: str,
        *,
        field: str | None = None,
        more: Iterable[FieldError] = (),
        current: Mapping[str, object] | None = None,
        headers: Mapping[str, str] | None = None,
        title: str = "",
    ) -> None:
        super().__init__(status, message, dict(headers or {}))
        self.errors = (FieldError(field, message), *more)
        self.current = current
        self.title = title


class Findings:
    """Gathers what is to be put right while one field after the other is read.

    `take` gives the value, or None after writing down why there is none; `stop` raises `FieldErrors` when
    anything was written down.
    """

    def __init__(self) -> None:
        self.errors: list[FieldError] = []

    def add(self, field: str | None, message: str) -> None:
        """Write down one thing."""
        self.errors.append(FieldError(field, message))

    def take(self, read: Callable[[], T], path: str = "") -> T | None:
        """What `read` gives. A `Refused` from the trade is put into words, its fields set under `path`."""
        try:
            return read()
        except Refused as refused:
            self.errors.extend(in_words(refused, path))
        except FieldErrors as found:
            self.errors.extend(found.errors)
        return None

    def stop(self) -> None:
        """Raise `FieldErrors` with everything written down so far, if there is anything."""
        if self.errors:
            raise FieldErrors(dict.fromkeys(self.errors))


def under(path: str, field: str) -> str:
    """The path of `field` below `path`: ('rings.0', 'width') gives 'rings.0.width'."""
    return f"{path}.{field}" if path else field


def in_words(refused: Refused, path: str = "") -> tuple[FieldError, ...]:
    """Each refusal with its sentence, its field set under `path` ('rings.0')."""
    return tuple(FieldError(under(path, refusal.field), sentence(refusal)) for refusal in refused.refusals)


def sentence(refusal: Refusal) -> str:
    """The sentence beside the field, in the studio's words.

    A width of 60: '60 mm is wider than a ring we can make, 0.8 to 40. Did you mean 6?'
    """
    return _SENTENCES[refusal.why](refusal) + _question(refusal)


def _leaf(refusal: Refusal) -> str:
    return refusal.field.rpartition(".")[2]


def _thing(refusal: Refusal) -> str:
    return THE_THING.get(_leaf(refusal), _leaf(refusal).replace("_", " "))


def _said(refusal: Refusal) -> str:
    """The typed value with its unit, or words for it where it is not to be repeated."""
    said = echo(refusal.typed)
    if not said:
        return "This"
    return f"{said} {refusal.unit}" if refusal.unit and _is_number(said) else said


def _named(refusal: Refusal) -> str:
    return echo(refusal.typed) or "this"


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]


def _is_number(text: str) -> bool:
    return re.fullmatch(r"[+-]?\d+([.,]\d+)?", text) is not None


def _question(refusal: Refusal) -> str:
    return f" Did you mean {refusal.suggestion}?" if echo(refusal.suggestion) else ""


def _range(refusal: Refusal) -> str:
    if refusal.low is not None and refusal.high is not None:
        return f"{figure_words(refusal.low, 3)} to {figure_words(refusal.high, 3)}"
    if refusal.high is not None:
        return f"at most {figure_words(refusal.high, 3)}"
    return f"at least {figure_words(refusal.low, 3)}" if refusal.low is not None else ""


def _with_range(start: str, refusal: Refusal, unit: str) -> str:
    return f"{start}, {_range(refusal)}{unit}." if _range(refusal) else f"{start}."


def _is_far(refusal: Refusal) -> bool:
    """Whether the value lies so far out that it is not said back: 1e+12."""
    return _ENDLESS.fullmatch(refusal.typed.strip()) is not None


def _outside(refusal: Refusal, *, is_above: bool) -> str:
    """What lies outside the limits; the unit stands behind the value, or else behind the limits."""
    if _leaf(refusal) == "on":
        return "A price of a day to come? Put it in at most a week before its day."
    said, unit = f"{_said(refusal)} is", ""
    if _is_far(refusal):
        said, unit = "That is far", f" {refusal.unit}" if refusal.unit else ""
    ring = (_ABOVE if is_above else _BELOW).get(_leaf(refusal))
    if ring:
        return _with_range(f"{said} {ring} we can make", refusal, unit)
    if _leaf(refusal) in _OF_A_SIZE:
        finger = "larger" if is_above else "smaller"
        return _with_range(f"{said} {finger} than any finger we know", refusal, f" {refusal.unit}")
    way = "more" if is_above else "less"
    return _with_range(f"{said} {way} than we can use for the {_thing(refusal)}", refusal, unit)


def _not_a_number(refusal: Refusal) -> str:
    if _leaf(refusal) in _OF_A_SIZE:
        return "We cannot read this as a size. Type it like N½ or 54."
    said = echo(refusal.typed)
    start = f"We cannot read '{said}' as a {_thing(refusal)}." if said else "We cannot read this as a number."
    return f"{start} Type it like 6 or 6.5."


def _too_long(refusal: Refusal) -> str:
    if refusal.unit == "decimals" and refusal.high is not None:
        return f"A {_thing(refusal)} has at most {figure_words(refusal.high, 3)} places after the point."
    return f"This is too long for a {_thing(refusal)}."


def _unknown_label(refusal: Refusal) -> str:
    said = "" if _is_far(refusal) else echo(refusal.typed)
    start = (
        f"{refusal.unit or 'This system'} has no size {said}." if said else "This is no size of this system."
    )
    return start if refusal.suggestion else f"{start} Look at the gauge again, or choose another system."


def _unknown_choice(refusal: Refusal) -> str:
    said = echo(refusal.typed)
    if refusal.field.startswith("minutes."):
        return f"This order has no ring {said}." if said else "This order has no such ring."
    start = f"We have no {_thing(refusal)} called {said}." if said else f"We have no such {_thing(refusal)}."
    return f"{start} Choose one from the list."


_SENTENCES: dict[Why, Callable[[Refusal], str]] = {
    **BENCH_SENTENCES,
    Why.EMPTY: lambda r: f"The {_thing(r)} is not given yet.",
    Why.TOO_LONG: _too_long,
    Why.NOT_A_NUMBER: _not_a_number,
    Why.AMBIGUOUS_COMMA: lambda r: (
        f"{echo(r.typed) or 'This'} could be a thousand or a fraction. Write a point, or no comma."
    ),
    Why.UNKNOWN_UNIT: lambda r: (
        f"We do not know the unit in {echo(r.typed) or 'this'}. "
        f"Use {'g, mg, ct, dwt or ozt' if r.unit == 'g' else 'mm, cm, in, ga, swg or bwg'}."
    ),
    Why.WHICH_GAUGE: lambda r: (
        f"By which gauge is {echo(r.typed) or 'this'}: {r.suggestion}? Write it behind the number."
    ),
    Why.NO_SUCH_GAUGE: lambda r: f"Gauges by {r.unit} run from 0 to 36. Write the thickness in mm.",
    Why.NO_PATTERN: lambda _: "This ring is plain: no pattern has stretched it. Leave it out.",
    Why.NO_GAUGE: lambda r: f"The {_thing(r)} is not given as a sheet gauge. Use mm, cm or in.",
    Why.CARD_NUMBER: lambda _: "A card's number is kept nowhere. Leave it out.",
    Why.NOT_ABOVE_ZERO: lambda r: f"The {_thing(r)} has to be above 0.",
    Why.TOO_SMALL: lambda r: _outside(r, is_above=False),
    Why.TOO_LARGE: lambda r: _outside(r, is_above=True),
    Why.UNKNOWN_LABEL: _unknown_label,
    Why.BELOW_US_ZERO: lambda _: "We read no US sizes below 0. Choose ISO and type the millimetres round.",
    Why.UNKNOWN_CHOICE: _unknown_choice,
    Why.WIRE_SIDES_DIFFER: lambda _: (
        "Round and square wire has one size: give width and thickness alike, or one."
    ),
    Why.ROLLED_AFTER_CLOSING: lambda _: "A rolled pattern goes on the flat strip, never on the closed ring.",
    Why.NEEDS_FLAT: lambda _: "This form is made from flat strip only. Choose the flat section.",
    Why.OUTSIDE_RANGE: lambda r: (
        f"{echo(r.typed) or 'This'} lies outside what was agreed, {r.unit}."
        " Take the yes back and quote anew for it."
    ),
    Why.RANGE_REVERSED: lambda _: "The largest size lies below the smallest. Change them over.",
    Why.DAY_PASSED: lambda _: "This day is past. Figures hold from today on, or from a day to come.",
    Why.DAY_TO_COME: lambda _: "This day is still to come.",
    Why.AVOIDED: lambda r: f"{_upper(_named(r))} holds {r.unit}, which is to be avoided.",
    Why.PARTS_UNKNOWN: lambda r: (
        f"What is in {_named(r)} is not known: it may hold {r.unit}, to be avoided. Put in its parts."
    ),
    Why.WEIGHT_DIFFERS: lambda r: (
        f"Its measures give {r.high or 0:.2f} g. Look at both again, or say that the weight is right."
    ),
    Why.NOT_WHOLE: lambda r: f"The parts make {_named(r)}. They have to make {r.high or 0:g}.",
    Why.NOT_SOLD: lambda r: (
        f"{_said(r)} is not cut by this supplier"
        + (f"; {r.high:g} mm is." if r.high is not None else ", nor any greater.")
    ),
    Why.NAME_TAKEN: lambda r: f"There is another called {echo(r.typed) or 'this'}. Give each its own name.",
    Why.NO_WIDTH: lambda _: "A stick has no width. Leave it empty.",
    Why.OTHER_SYSTEM: lambda r: f"This gauge reads {r.unit} sizes. Choose that system, or another gauge.",
    Why.OTHER_WIDTH: lambda r: f"This gauge is {figure_words(r.low or 0, 3)} mm wide. Leave the width empty.",
    Why.OTHER_KIND: lambda r: f"This is a {r.unit}: it measures {_MEASURES.get(r.unit, 'otherwise')}.",
    Why.NOTHING_MEASURED: lambda _: "The size was told, so no gauge measured it.",
    Why.NOT_RISING: lambda r: f"Each row is wider than the one before, {_range(r)} mm; the last has no end.",
    Why.GROOVE_IN_THE_METAL: lambda r: (
        f"The groove's radius has to be more than half the metal, {figure_words(r.low or 0, 3)} mm."
    ),
    Why.GROOVE_TOO_TIGHT: lambda r: (
        f"The strip would reach round more than half a circle. Choose a groove of "
        f"{figure_words(math.ceil((r.low or 0) * 100) / 100, 2)} mm or more, or a narrower strip."
    ),
    Why.RADIUS_AND_RISE: lambda _: "The groove's radius says the rise already. Give one of the two.",
    Why.NO_GROOVE: lambda _: "Give the groove's radius, or the rise of the edges.",
    Why.RISE_TOO_HIGH: lambda r: (
        f"The strip would reach round more than half a circle. Choose a rise of "
        f"{figure_words(math.floor((r.high or 0) * 100) / 100, 2)} mm or less, or a wider strip."
    ),
}
