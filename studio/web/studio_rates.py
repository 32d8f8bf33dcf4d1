"""The form of the studio's rates and minutes: its fields, how they are read, how they stand in it."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum, auto

from studio.book.rates import minutes_words
from studio.craft.designs import Profile
from studio.craft.minutes import DESIGNS_OF_OPERATION, OPERATIONS, minute_rows
from studio.craft.pricing import HIGHEST_MARGIN_PERCENT
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.rates import Extra, Rates
from studio.web.amounts import read_amount, read_count, read_percent, shown_amount, shown_percent
from studio.web.reading import Reading, sure
from studio.web.sent_back import Said

MOST_DAYS = 3650
MOST_MINUTES = 10_000
_MOST_PERCENT = 1000
_MOST_SHARE = 100
_MINUTES_PREFIX = "minutes."
_EXTRA_PREFIX = "extra_margin."


class Kind(Enum):
    """What a field of the form holds."""

    AMOUNT = auto()
    PERCENT = auto()
    MARGIN = auto()
    SHARE = auto()
    DAYS = auto()


@dataclass(frozen=True, slots=True)
class RateField:
    """One field of the form: its name, which is that of `Rates` or `extra_margin.<kind>`, and its words.

    One that is not needed is nothing where it is left out.
    """

    name: str
    label: str
    kind: Kind
    note: str = ""
    is_needed: bool = True

    def unit(self, currency: str) -> str:
        """What stands beside the field."""
        return {Kind.AMOUNT: currency, Kind.DAYS: "days"}.get(self.kind, "%")


@dataclass(frozen=True, slots=True)
class RateGroup:
    """Fields that are about one thing."""

    name: str
    fields: tuple[RateField, ...]


GROUPS = (
    RateGroup(
        "The hour",
        (
            RateField("labour_hour_minor", "An hour at the bench", Kind.AMOUNT),
            RateField("overhead_percent", "Overhead, on labour", Kind.PERCENT),
        ),
    ),
    RateGroup(
        "Metal",
        (
            RateField("premium_percent", "Premium, on its price", Kind.PERCENT),
            RateField("waste_percent", "Waste, on its weight", Kind.PERCENT),
        ),
    ),
    RateGroup(
        "A ring",
        (
            RateField("consumables_minor", "Consumables", Kind.AMOUNT),
            RateField("assay_minor", "Assay, if hallmarked", Kind.AMOUNT),
            RateField("letter_minor", "Cutting a letter", Kind.AMOUNT, is_needed=False),
            RateField("plating_minor", "Plating", Kind.AMOUNT, is_needed=False),
            RateField("setting_minor", "Setting a stone", Kind.AMOUNT, is_needed=False),
        ),
    ),
    RateGroup(
        "Margin",
        (
            RateField("margin_percent", "On our own work", Kind.MARGIN, "A share of the price."),
            RateField(f"{_EXTRA_PREFIX}{Extra.ASSAY}", "On the assay", Kind.MARGIN),
            RateField(
                f"{_EXTRA_PREFIX}{Extra.OUTSIDE_WORK}", "On outside work", Kind.MARGIN, is_needed=False
            ),
        ),
    ),
    RateGroup(
        "Sum",
        (
            RateField("step_minor", "Net, up to full", Kind.AMOUNT, "0: no rounding."),
            RateField("tax_percent", "Tax", Kind.SHARE, "Ask your accountant."),
        ),
    ),
    RateGroup(
        "Quote",
        (
            RateField("deposit_percent", "Deposit, of the total", Kind.SHARE),
            RateField("valid_days", "Good for", Kind.DAYS),
        ),
    ),
    RateGroup("Prices", (RateField("stale_after_days", "A metal price is old after", Kind.DAYS),)),
)


@dataclass(frozen=True, slots=True)
class ShownField:
    """One field of the form as the page shows it."""

    name: str
    label: str
    value: str
    unit: str
    note: str
    error: str


@dataclass(frozen=True, slots=True)
class ShownGroup:
    """Fields under one name; a group of one field may have none."""

    name: str
    fields: tuple[ShownField, ...]


@dataclass(frozen=True, slots=True)
class RatesForm:
    """The form: what an hour and the rest cost, and the minutes by operation and design."""

    groups: tuple[ShownGroup, ...]
    operations: tuple[ShownGroup, ...]


def rates_form(rates: Rates | None, currency: str, said: Said) -> RatesForm:
    """The form with what stands, or with what was typed and could not be kept. A new book's is empty."""
    stands = {} if rates is None else rates_texts(rates)

    def shown(name: str, label: str, unit: str = "", note: str = "") -> ShownField:
        return ShownField(
            name, label, said.typed.get(name, stands.get(name, "")), unit, note, said.error(name)
        )

    return RatesForm(
        groups=tuple(
            ShownGroup(
                group.name,
                tuple(shown(one.name, one.label, one.unit(currency), one.note) for one in group.fields),
            )
            for group in GROUPS
        ),
        operations=tuple(
            ShownGroup(
                operation if key in DESIGNS_OF_OPERATION else "",
                tuple(shown(_MINUTES_PREFIX + row, _row_words(row)) for row in _rows_of(key)),
            )
            for key, operation in OPERATIONS.items()
        ),
    )


def field_words() -> dict[str, str]:
    """Each field's name with the words that name it alone: 'Work the pattern, hammered'."""
    words = {
        one.name: f"{group.name}, {one.label[:1].lower()}{one.label[1:]}"
        for group in GROUPS
        for one in group.fields
    }
    return words | {_MINUTES_PREFIX + row: minutes_words(row) for row in minute_rows()}


def rates_texts(rates: Rates) -> dict[str, str]:
    """The rates as their fields show them, by the fields' names."""
    texts: dict[str, str] = {}
    for group in GROUPS:
        for one in group.fields:
            texts[one.name] = _text(rates, one)
    return texts | {_MINUTES_PREFIX + row: str(minutes) for row, minutes in rates.minutes.items()}


def read_rates(raw: Mapping[str, object], currency: str) -> Rates:
    """The rates out of the form; raises `FieldErrors` with all that is to be put right.

    Every rate has to be given; minutes may be left out, and a ring that needs them waits for them.
    """
    asked = Reading(raw, "")
    extra = Reading(raw.get("extra_margin"), "extra_margin")
    whole: dict[str, int] = {}
    percent: dict[str, Decimal] = {}
    for group in GROUPS:
        for one in group.fields:
            place = extra if one.name.startswith(_EXTRA_PREFIX) else asked
            read = _read(place, one, currency)
            if isinstance(read, Decimal):
                percent[one.name] = read
            elif read is not None:
                whole[one.name] = read
        asked.found.errors += extra.found.errors
        extra.found.errors.clear()
    minutes = asked.found.take(lambda: read_minutes(raw.get("minutes")))
    asked.stop()
    return Rates(
        currency=currency,
        labour_hour_minor=whole["labour_hour_minor"],
        overhead_percent=percent["overhead_percent"],
        consumables_minor=whole["consumables_minor"],
        premium_percent=percent["premium_percent"],
        waste_percent=percent["waste_percent"],
        margin_percent=percent["margin_percent"],
        extra_margin_percent={
            kind: percent[_EXTRA_PREFIX + kind] for kind in (Extra.ASSAY, Extra.OUTSIDE_WORK)
        },
        assay_minor=whole["assay_minor"],
        letter_minor=whole["letter_minor"],
        plating_minor=whole["plating_minor"],
        setting_minor=whole["setting_minor"],
        tax_percent=percent["tax_percent"],
        step_minor=whole["step_minor"],
        deposit_percent=percent["deposit_percent"],
        valid_days=whole["valid_days"],
        stale_after_days=whole["stale_after_days"],
        minutes=sure(minutes),
    )


def read_minutes(raw: object) -> dict[str, int]:
    """The minutes that are given, by their row; a row that no route has is refused."""
    asked = Reading(raw, "minutes")
    rows, reader = minute_rows(), read_count(0, MOST_MINUTES, "minute", "minutes")
    for name in asked.raw:
        if name not in rows:
            asked.found.add(None, "There is a row in the minutes that no ring asks for.")
    given = {row: asked.read(row, reader) for row in rows if asked.has(row)}
    asked.stop()
    return {row: minutes for row, minutes in given.items() if minutes is not None}


def _read(place: Reading, one: RateField, currency: str) -> int | Decimal | None:
    name = one.name.removeprefix(_EXTRA_PREFIX)
    if not place.has(name) and not one.is_needed:
        return Decimal(0) if one.kind is Kind.MARGIN else 0
    if not place.has(name):
        place.add(name, "This is not given yet.")
        return None
    if one.kind is Kind.AMOUNT:
        return place.read(name, read_amount(currency))
    if one.kind is Kind.DAYS:
        return place.read(name, read_count(1, MOST_DAYS, "day", "days"))
    if one.kind is Kind.MARGIN:
        return place.read(name, read_percent(int(HIGHEST_MARGIN_PERCENT), is_reached=False))
    most = _MOST_SHARE if one.kind is Kind.SHARE else _MOST_PERCENT
    return place.read(name, read_percent(most))


def _text(rates: Rates, one: RateField) -> str:
    """One rate as its field shows it."""
    if one.name.startswith(_EXTRA_PREFIX):
        margin = rates.extra_margin_percent.get(Extra(one.name.removeprefix(_EXTRA_PREFIX)))
        return "" if margin is None else shown_percent(margin)
    value = getattr(rates, one.name)
    if one.kind is Kind.AMOUNT:
        return shown_amount(value, rates.currency)
    return str(value) if one.kind is Kind.DAYS else shown_percent(value)


def _rows_of(operation: str) -> tuple[str, ...]:
    return tuple(row for row in minute_rows() if row.partition(":")[0] == operation)


def _row_words(row: str) -> str:
    key, _, design = row.partition(":")
    return _design_words(design) if design else OPERATIONS[key]


def _design_words(design: str) -> str:
    return PROFILE_NAMES[Profile(design)].lower() if design in set(Profile) else design
