"""Metal prices by day: what stands, what is old, and the verbs that enter new ones."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

from sqlalchemy import Select, bindparam, func
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.rate_tables import MetalPriceRow
from studio.book.studio import currency_of, studio, time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.alloys import ALLOYS, Metal
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.metals import PRECIOUS
from studio.craft.rates import MetalPrice, Rates, WeightUnit
from studio.craft.units import checked_text, has_ambiguous_comma, shortened

DECIMALS = 6
LONGEST_SOURCE = 200
MOST_DAYS_AHEAD = 7
"""A price may be put in this many days before its day; one further off is a slip of the pen."""
_PRICE = re.compile(r"([0-9]{1,12})(?:[.,]([0-9]+))?")


@dataclass(frozen=True, slots=True)
class MetalPriceEntry:
    """A metal price as entered: in which currency, when and by whom."""

    price: MetalPrice
    currency: str
    entered_at: datetime
    entered_by: str


def priced_metals() -> tuple[str, ...]:
    """What a price can be entered for: the precious metals, and each alloy without any by its key."""
    precious = [str(metal) for metal in Metal if metal in PRECIOUS]
    return (*precious, *(key for key, alloy in ALLOYS.items() if not alloy.is_precious))


def metal_price_entries(session: Session, day: date) -> dict[str, MetalPriceEntry]:
    """What counts on `day` for each metal: the latest day not after it, on one day the price entered last.

    Prices in another currency than the studio's of today count as none.
    """
    found = session.connection().execute(_ON_DAY, {"day": day, "currency": currency_of(session)})
    return {
        row.metal: MetalPriceEntry(
            MetalPrice(row.metal, Decimal(row.price), WeightUnit(row.unit), row.on_day, row.source),
            row.currency,
            row.entered_at,
            row.actor,
        )
        for row in found
    }


def _on_day() -> Select[Any]:
    """Of each metal the row that counts on a day, in a currency: of the newest day the last one entered."""
    newest = func.row_number().over(
        partition_by=col(MetalPriceRow.metal),
        order_by=(col(MetalPriceRow.on_day).desc(), col(MetalPriceRow.id).desc()),
    )
    listed = (
        pick(
            col(MetalPriceRow.metal),
            col(MetalPriceRow.price),
            col(MetalPriceRow.unit),
            col(MetalPriceRow.on_day),
            col(MetalPriceRow.source),
            col(MetalPriceRow.currency),
            col(MetalPriceRow.entered_at),
            col(MetalPriceRow.actor),
            newest.label("place"),
        )
        .where(
            col(MetalPriceRow.on_day) <= bindparam("day"),
            col(MetalPriceRow.currency) == bindparam("currency"),
        )
        .subquery()
    )
    return pick(listed).where(listed.c.place == 1)


# The counter asks while somebody types: the statement is put together once.
_ON_DAY = _on_day()


def metal_prices(session: Session, day: date) -> dict[str, MetalPrice]:
    """The price of each metal that counts on `day`."""
    return {metal: entry.price for metal, entry in metal_price_entries(session, day).items()}


def stale(prices: Mapping[str, MetalPrice], day: date, rates: Rates) -> tuple[MetalPrice, ...]:
    """The prices that are older on `day` than the studio's limit: with 7 days, one of 8 days ago."""
    return tuple(found for found in prices.values() if (day - found.on).days > rates.stale_after_days)


def add_metal_price(session: Session, *, price: MetalPrice, actor: Actor, now: datetime) -> MetalPriceEntry:
    """Enter the price of a metal for a day, in the studio's currency, exactly as typed.

    Raises `Refused` for an unknown metal, a price not above zero or of more than six decimals, a day more
    than seven days ahead, or a source that is too long.
    """
    (entry,) = add_metal_prices(session, prices=(price,), actor=actor, now=now)
    return entry


def add_metal_prices(
    session: Session, *, prices: Sequence[MetalPrice], actor: Actor, now: datetime
) -> tuple[MetalPriceEntry, ...]:
    """Enter several prices, all or none, as one entry of the history. Raises `Refused` with every reason.

    With more than one price the fields are named 'prices.0.price'.
    """
    several = len(prices) > 1
    last = day_of(now, time_zone(session)) + timedelta(days=MOST_DAYS_AHEAD)
    refusals = [
        refusal
        for place, price in enumerate(prices)
        for refusal in price_refusals(price, f"prices.{place}." if several else "", last=last)
    ]
    if refusals:
        raise Refused(*refusals)
    with transaction(session):
        currency = studio(session).currency
        session.add_all(
            MetalPriceRow(
                metal=price.metal,
                price=f"{price.price:f}",
                currency=currency,
                unit=price.unit,
                on_day=price.on,
                source=price.source.strip(),
                entered_at=now,
                user_id=actor.id,
                actor=actor.name,
            )
            for price in prices
        )
        session.flush()
        new = [price_shown(price) for price in prices]
        note(session, actor=actor, now=now, verb="enter metal prices", new={"prices": new})
    return tuple(MetalPriceEntry(price, currency, now, actor.name) for price in prices)


def price_shown(price: MetalPrice) -> dict[str, str]:
    """A price as plain JSON values: what a quote keeps of it, and the history."""
    return {
        "metal": price.metal,
        "price": f"{price.price:f}",
        "unit": price.unit,
        "on": price.on.isoformat(),
        "source": price.source,
    }


def shown_price_read(kept: Mapping[str, str]) -> MetalPrice:
    """A price out of what `price_shown` made of it."""
    return MetalPrice(
        kept["metal"],
        Decimal(kept["price"]),
        WeightUnit(kept["unit"]),
        date.fromisoformat(kept["on"]),
        kept["source"],
    )


def read_price(typed: str, field: str = "price") -> Decimal:
    """The price `typed` means, kept to the last digit: '31.50', '31,5'. Up to six decimals.

    Raises `Refused` naming `field` for what is no such number, or has a comma before exactly three digits.
    """
    text = checked_text(typed, field)
    if has_ambiguous_comma(text):
        raise Refused(Refusal(field, Why.AMBIGUOUS_COMMA, shortened(typed)))
    found = _PRICE.fullmatch(text)
    if found is None:
        raise Refused(Refusal(field, Why.NOT_A_NUMBER, shortened(typed)))
    if len(found[2] or "") > DECIMALS:
        raise Refused(Refusal(field, Why.TOO_LONG, shortened(typed), high=DECIMALS, unit="decimals"))
    return Decimal(text.replace(",", "."))


def price_refusals(price: MetalPrice, before: str = "", *, last: date | None = None) -> Iterator[Refusal]:
    """Every reason why a price cannot stand; `before` opens the names of its fields.

    `last` is the last day a price can be put in for; left out, every day can stand.
    """
    if price.metal not in priced_metals():
        yield Refusal(f"{before}metal", Why.UNKNOWN_CHOICE, shortened(price.metal))
    if not price.price.is_finite():
        yield Refusal(f"{before}price", Why.NOT_A_NUMBER, str(price.price))
    elif price.price <= 0:
        yield Refusal(f"{before}price", Why.NOT_ABOVE_ZERO, f"{price.price:f}"[:24])
    elif price.price >= 10**12:
        yield Refusal(f"{before}price", Why.TOO_LARGE, f"{price.price:f}"[:24], high=10**12)
    elif price.price != round(price.price, DECIMALS):
        yield Refusal(f"{before}price", Why.TOO_LONG, f"{price.price:f}"[:24], high=DECIMALS, unit="decimals")
    if last is not None and price.on > last:
        yield Refusal(f"{before}on", Why.TOO_LARGE, price.on.isoformat())
    if not price.source.strip():
        yield Refusal(f"{before}source", Why.EMPTY)
    elif len(price.source) > LONGEST_SOURCE:
        yield Refusal(
            f"{before}source", Why.TOO_LONG, shortened(price.source), high=LONGEST_SOURCE, unit="signs"
        )
