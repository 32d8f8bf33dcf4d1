"""The metal prices on the Studio page: what counts for each metal, what is old, and all that were put in."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from studio.book.rates import MetalPriceEntry, priced_metals
from studio.craft.rates import WeightUnit
from studio.web.counter_choices import Choice
from studio.web.days import day_words
from studio.web.price_reading import LIST_EXAMPLE, UNIT_WORDS, metal_words
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import days_words, hour_words, joined, opened

ENTRY_FIELDS = ("metal", "price", "unit", "on", "source")


@dataclass(frozen=True, slots=True)
class PriceLine:
    """A metal's price as a table shows it. `age` is how old it is where that is too old, else ''."""

    metal: str
    price: str
    unit: str
    day: str
    source: str
    age: str
    put_in: str


@dataclass(frozen=True, slots=True)
class TypedPrice:
    """The fields of the entry, as they stand or as they were typed."""

    metal: str
    price: str
    unit: str
    on: str
    source: str


@dataclass(frozen=True, slots=True)
class PricesPart:
    """The part of the page about prices.

    `without` names the metals that have none; `list_errors` what is wrong in a pasted list beyond the first
    thing, which stands beside its field.
    """

    lines: tuple[PriceLine, ...]
    without: str
    typed: TypedPrice
    metals: tuple[Choice, ...]
    units: tuple[Choice, ...]
    list_text: str
    list_note: str
    list_errors: tuple[str, ...]
    is_list_open: bool
    earlier: tuple[PriceLine, ...]
    is_history_open: bool
    older_href: str


@dataclass(frozen=True, slots=True)
class History:
    """One page of the prices as they were put in; `is_asked_for` keeps it open when it is turned."""

    entries: Sequence[MetalPriceEntry]
    next: str | None
    is_asked_for: bool


def prices_part(
    seat: Seat,
    counted: Mapping[str, MetalPriceEntry],
    old: frozenset[str],
    *,
    history: History,
    said: Said,
) -> PricesPart:
    """What the page shows of the prices; `old` are the metals with a price past the studio's limit."""
    known = [metal for metal in priced_metals() if metal in counted]
    before = counted[known[0]].price if known else None
    typed = said.typed
    return PricesPart(
        lines=tuple(price_line(counted[metal], seat, is_old=metal in old) for metal in known),
        without=_without([metal for metal in priced_metals() if metal not in counted]),
        typed=TypedPrice(
            metal=typed.get("metal", known[0] if known else priced_metals()[0]),
            price=typed.get("price", ""),
            unit=typed.get("unit", before.unit if before else WeightUnit.TROY_OUNCE),
            on=typed.get("on", day_words(seat.today)),
            source=typed.get("source", before.source if before else ""),
        ),
        metals=tuple(Choice(metal, opened(metal_words(metal))) for metal in priced_metals()),
        units=tuple(Choice(unit, words) for unit, words in UNIT_WORDS.items()),
        list_text=typed.get("list", ""),
        list_note=f"The first line is {LIST_EXAMPLE}. The unit is g, kg or ozt, the day like "
        f"{seat.today.isoformat()}.",
        list_errors=tuple(error.message for error in said.errors if error.field == "list")[1:],
        is_list_open="list" in typed,
        earlier=tuple(price_line(entry, seat) for entry in history.entries),
        is_history_open=history.is_asked_for,
        older_href=f"/studio?prices={history.next}#prices" if history.next else "",
    )


def price_line(entry: MetalPriceEntry, seat: Seat, *, is_old: bool = False) -> PriceLine:
    """One price as a table shows it."""
    price = entry.price
    return PriceLine(
        metal=opened(metal_words(price.metal)),
        price=exact_words(price.price),
        unit=UNIT_WORDS[price.unit],
        day=day_words(price.on, today=seat.today),
        source=price.source,
        age=f"{days_words((seat.today - price.on).days)}" if is_old else "",
        put_in=f"{hour_words(entry.entered_at, seat.zone, seat.today)}, {entry.entered_by}",
    )


def exact_words(price: Decimal) -> str:
    """A price with every digit that was typed: '2,950.40', '31.50', '0.0098'."""
    return f"{price:,f}"


def _without(metals: Sequence[str]) -> str:
    if not metals:
        return ""
    return f"No price yet for {joined([metal_words(metal) for metal in metals])}: a quote in them waits."
