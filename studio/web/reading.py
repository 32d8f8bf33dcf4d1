"""Reading the fields of one group one after the other, and gathering everything that is to be put right."""

from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import TypeVar

from studio.craft.designs import Limits
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.sheet_gauges import BareGauge
from studio.craft.units import read_length, read_mass, read_number, shortened
from studio.web.errors import FieldError, FieldErrors, Findings, under
from studio.web.texts import is_given

T = TypeVar("T")
E = TypeVar("E", bound=StrEnum)

_YES_NO = {"yes": True, "true": True, "on": True, "warm": True, "no": False, "false": False, "cold": False}


class Reading:
    """The fields of one group under their path; `raw` may be left out, which is an empty group.

    Each read gives the value, or None where nothing was given or something is to be put right. `stop` ends
    the reading with `FieldErrors` if anything is.
    """

    def __init__(self, raw: object, path: str) -> None:
        self.path = path
        self.found = Findings()
        self.raw: Mapping[str, object] = {}
        if isinstance(raw, Mapping):
            self.raw = raw
        elif raw is not None:
            self.found.add(path or None, "This has to be an object with fields.")

    def at(self, name: str) -> str:
        """The path of the field `name`."""
        return under(self.path, name)

    def has(self, name: str) -> bool:
        """Whether anything was typed there."""
        return is_given(self.raw.get(name))

    def is_wrong(self, *names: str) -> bool:
        """Whether one of these fields is to be put right."""
        return bool({error.field for error in self.found.errors} & {self.at(name) for name in names})

    def is_alike(self, name: str, other: str) -> bool:
        """Whether the same was typed in both fields."""
        one, two = self.raw.get(name), self.raw.get(other)
        return one.strip() == two.strip() if isinstance(one, str) and isinstance(two, str) else one == two

    def read(self, name: str, reader: Callable[[object, str], T]) -> T | None:
        """What `reader` makes of the field: it gets the value, None where nothing was typed, and the path."""
        value = self.raw.get(name) if self.has(name) else None
        return self.found.take(lambda: reader(value, self.at(name)))

    def needed(self, name: str, reader: Callable[[object, str], T | None], thing: str) -> T | None:
        """As `read`, for a field that must be given; `thing` names it: 'The size is not given yet'."""
        if self.has(name):
            return self.read(name, reader)
        self.add(name, f"The {thing} is not given yet.")
        return None

    def length(self, name: str, limits: Limits, *, gauge: BareGauge | None = BareGauge.BS) -> float | None:
        """A length in mm, as a number or as text with a unit; `gauge` reads '18 ga', None takes none."""

        def reader(value: object, field: str) -> float | None:
            if value is None:
                return None
            typed = measured(value, field)
            return read_length(typed, field, low_mm=limits.low, high_mm=limits.high, gauge=gauge)

        return self.read(name, reader)

    def number(self, name: str, limits: Limits, unit: str) -> float | None:
        """A plain number, with its unit behind it or not."""
        return self.read(
            name,
            lambda value, field: (
                None
                if value is None
                else read_number(measured(value, field), field, low=limits.low, high=limits.high, unit=unit)
            ),
        )

    def mass(self, name: str, limits: Limits) -> float | None:
        """A weight in g, as a number or as text with a unit: '4.2 g', '850 mg', '1.5 ct'."""

        def reader(value: object, field: str) -> float | None:
            if value is None:
                return None
            return read_mass(measured(value, field), field, low_g=limits.low, high_g=limits.high)

        return self.read(name, reader)

    def choice(self, name: str, choices: type[E]) -> E | None:
        """One of a list."""
        return self.read(
            name, lambda value, field: None if value is None else read_choice(value, field, choices)
        )

    def yes(self, name: str) -> bool | None:
        """Yes or no."""
        return self.read(name, lambda value, field: None if value is None else read_yes(value, field))

    def add(self, name: str, message: str) -> None:
        """Write down one more thing to put right."""
        self.found.add(self.at(name), message)

    def refuse(self, name: str, why: Why, typed: str = "") -> None:
        """Write down what the trade refuses."""
        self.read(name, lambda _, field: _raise(Refusal(field, why, typed)))

    def stop(self) -> None:
        """Raise `FieldErrors` if anything was written down."""
        self.found.stop()


def sure(value: T | None) -> T:
    """A needed value after `stop` has let it through: it is there."""
    if value is None:
        raise RuntimeError("a field was neither read nor refused")
    return value


def measured(value: object, field: str) -> str | float:
    """A value that may be a measure: text or a number, never true, a list or an object."""
    if isinstance(value, str | int | float) and not isinstance(value, bool):
        return value
    raise Refused(Refusal(field, Why.NOT_A_NUMBER))


def read_choice(value: object, field: str, choices: type[E]) -> E:
    """The choice meant; raises `Refused` for one that is not on the list."""
    for choice in choices:
        if isinstance(value, str) and choice.value == value.strip():
            return choice
    raise Refused(Refusal(field, Why.UNKNOWN_CHOICE, shortened(value) if isinstance(value, str) else ""))


def read_yes(value: object, field: str) -> bool:
    """Yes or no: JSON's true and false, or the words of a form ('yes', 'on', 'warm', 'no', 'cold')."""
    answer = (
        value
        if isinstance(value, bool)
        else _YES_NO.get(value.strip().lower() if isinstance(value, str) else "")
    )
    if answer is None:
        raise FieldErrors([FieldError(field, "This has to be yes or no.")])
    return answer


def read_id(value: object, field: str) -> int:
    """The number of a record in the book, as a whole number or its digits."""
    text = str(value) if isinstance(value, int | str) and not isinstance(value, bool) else ""
    if not (text.isascii() and text.isdigit() and len(text) <= 12):
        raise FieldErrors([FieldError(field, "This has to be a whole number.")])
    return int(text)


def _raise(refusal: Refusal) -> None:
    raise Refused(refusal)
