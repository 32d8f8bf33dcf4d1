"""The studio's own figures by day: what stands, what is missing, and putting new ones beside them."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import bindparam
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import VersionStale
from studio.book.metal_price_csv import read_metal_prices_csv
from studio.book.metal_prices import (
    MetalPriceEntry,
    add_metal_price,
    add_metal_prices,
    metal_price_entries,
    metal_prices,
    priced_metals,
    read_price,
    stale,
)
from studio.book.rate_limits import check_rates
from studio.book.rate_tables import RatesRow
from studio.book.studio import currency_of, studio, time_zone
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.minutes import OPERATIONS, minute_rows
from studio.craft.rates import Extra, Rates

__all__ = [
    "MetalPriceEntry",
    "RatesEntry",
    "add_metal_price",
    "add_metal_prices",
    "metal_price_entries",
    "metal_prices",
    "minutes_words",
    "priced_metals",
    "put_rates",
    "rates_entry",
    "rates_missing",
    "rates_on",
    "read_metal_prices_csv",
    "read_price",
    "stale",
]

_PERCENT = {
    "overhead_percent": "overhead_bp",
    "premium_percent": "premium_bp",
    "waste_percent": "waste_bp",
    "margin_percent": "margin_bp",
    "tax_percent": "tax_bp",
    "deposit_percent": "deposit_bp",
}
_WHOLE = (
    "labour_hour_minor", "consumables_minor", "assay_minor", "letter_minor", "plating_minor", "setting_minor",
    "step_minor",
    "valid_days", "stale_after_days",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class RatesEntry:
    """The rates as entered: from which day they count, when and by whom. `version` is the entry's."""

    rates: Rates
    since: date
    entered_at: datetime
    entered_by: str
    version: int


def rates_entry(session: Session, day: date) -> RatesEntry | None:
    """What counts on `day`: the entry of the latest day not after it, on one day the last one; else None.

    Rates in another currency than the studio's of today count as none: their amounts would be misread.
    """
    row = session.exec(_ON_DAY, params={"day": day, "currency": currency_of(session)}).one_or_none()
    return None if row is None else RatesEntry(_rates(row), row.since, row.entered_at, row.actor, row.id)


# The counter asks while somebody types: the statement is put together once.
_ON_DAY = (
    select(RatesRow)
    .where(col(RatesRow.since) <= bindparam("day"), col(RatesRow.currency) == bindparam("currency"))
    .order_by(col(RatesRow.since).desc(), col(RatesRow.id).desc())
    .limit(1)
)


def rates_on(session: Session, day: date) -> Rates | None:
    """The rates that count on `day`, None where the studio has given none; minutes may be missing."""
    entry = rates_entry(session, day)
    return None if entry is None else entry.rates


def rates_on_days(session: Session, days: Collection[date]) -> dict[date, Rates | None]:
    """The rates that count on each of these days, as `rates_on` has them, asked for at once."""
    rows = session.exec(
        select(RatesRow)
        .where(
            col(RatesRow.since) <= max(days, default=date.min), col(RatesRow.currency) == currency_of(session)
        )
        .order_by(col(RatesRow.since).desc(), col(RatesRow.id).desc())
    ).all()
    known = {row.id: _rates(row) for row in rows}
    return {day: next((known[row.id] for row in rows if row.since <= day), None) for day in days}


def rates_missing(session: Session, day: date | None = None) -> tuple[str, ...]:
    """What the studio has not said for the rates of `day` (left out: the newest), in words.

    ('rates',) where there are none, else "minutes for 'Work the pattern, hammered'" for each row left empty.
    """
    rates = rates_on(session, day or date.max)
    if rates is None:
        return ("rates",)
    return tuple(f"minutes for '{minutes_words(row)}'" for row in minute_rows() if row not in rates.minutes)


def minutes_words(row: str) -> str:
    """A row of the minutes as a sentence names it: 'pattern:hammered' gives 'Work the pattern, hammered'."""
    key, _, design = row.partition(":")
    return f"{OPERATIONS[key]}, {design.replace('-', ' ')}" if design else OPERATIONS[key]


def put_rates(
    session: Session, *, rates: Rates, actor: Actor, now: datetime, version: int | None = None
) -> RatesEntry:
    """Let `rates` count from today on: a new entry beside the old ones, which are never changed.

    `version` is that of the entry that was read (0: there was none); left out, it is not asked for. Saying
    again what stands writes nothing. Raises `Refused` with every figure that cannot stand, and
    `VersionStale` when somebody else put rates in between.
    """
    with transaction(session):
        today = day_of(now, time_zone(session))
        check_rates(rates, studio(session).currency)
        stands = rates_entry(session, today)
        current = 0 if stands is None else stands.version
        if version is not None and version != current:
            raise VersionStale("the rates", version, current)
        if stands is not None and stands.rates == rates:
            return stands
        row = RatesRow(since=today, entered_at=now, user_id=actor.id, actor=actor.name, **_columns(rates))
        session.add(row)
        session.flush()
        old = {} if stands is None else rates_shown(stands.rates)
        new = rates_shown(rates)
        changed = [name for name in new if old.get(name) != new[name]]
        note(
            session,
            actor=actor,
            now=now,
            verb="put rates",
            old={name: old.get(name) for name in changed},
            new={name: new[name] for name in changed},
        )
        return RatesEntry(rates, today, now, actor.name, row.id)


def rates_shown(rates: Rates) -> dict[str, Any]:
    """Rates as plain JSON values, percent as text: what a quote keeps of them, and the history."""
    return {part.name: _plain(getattr(rates, part.name)) for part in fields(Rates)}


def rates_read(kept: Mapping[str, Any]) -> Rates:
    """Rates out of what `rates_shown` made of them."""
    figures: dict[str, Any] = {name: kept.get(name, 0) for name in _WHOLE}  # a rate later than the quote is 0
    figures |= {name: Decimal(kept[name]) for name in _PERCENT}
    margins = {Extra(kind): Decimal(text) for kind, text in kept["extra_margin_percent"].items()}
    return Rates(
        currency=kept["currency"],
        extra_margin_percent=margins,
        minutes=kept["minutes"],
        **figures,
    )


def _plain(value: object) -> object:
    if isinstance(value, Decimal):
        return f"{_of_bp(_bp(value)):f}"
    return {key: _plain(part) for key, part in value.items()} if isinstance(value, Mapping) else value


def _columns(rates: Rates) -> dict[str, Any]:
    return {
        "currency": rates.currency,
        "extra_margins_bp": {kind: _bp(percent) for kind, percent in rates.extra_margin_percent.items()},
        "minutes": dict(rates.minutes),
        **{name: getattr(rates, name) for name in _WHOLE},
        **{column: _bp(getattr(rates, name)) for name, column in _PERCENT.items()},
    }


def _rates(row: RatesRow) -> Rates:
    margins = {Extra(kind): _of_bp(bp) for kind, bp in row.extra_margins_bp.items()}
    figures: dict[str, Any] = {name: getattr(row, name) for name in _WHOLE}
    figures |= {name: _of_bp(getattr(row, column)) for name, column in _PERCENT.items()}
    return Rates(
        currency=row.currency,
        extra_margin_percent=margins,
        minutes=row.minutes,
        **figures,
    )


def _bp(percent: Decimal) -> int:
    return int(percent * 100)


def _of_bp(bp: int) -> Decimal:
    """Percent as a person writes it: 2000 gives 20, 1750 gives 17.5."""
    whole, rest = divmod(bp, 100)
    return Decimal(whole) if not rest else Decimal(bp).scaleb(-2).normalize()
