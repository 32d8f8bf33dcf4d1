"""A quote drafted: of an order as it stands, or anew of one that waits, at the metal prices of today."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

from sqlmodel import Session, col, select

from studio.book.errors import MoveRefused, NotQuotable, WhyNot
from studio.book.frozen import frozen_quote
from studio.book.live_price import minutes_wanted, price_of
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order
from studio.book.quote_tables import QuoteRow
from studio.book.quote_values import (
    QuoteDraft,
    QuoteKind,
    QuoteState,
    QuoteTerms,
)
from studio.book.rate_limits import MOST_DAYS, MOST_MINUTES
from studio.book.rates import rates_on, rates_read
from studio.book.studio import Studio, studio
from studio.book.variants import FIRST
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.hallmark import HallmarkRule
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.rates import Rates

_AS_THE_RATES_SAY = QuoteTerms()


def quotable(
    session: Session, number: str, *, terms: QuoteTerms = _AS_THE_RATES_SAY, now: datetime
) -> QuoteDraft:
    """The quote of an order as it would be issued now, without writing anything.

    Raises `OrderUnknown`; `MoveRefused` from a state that is not quoted any more; `NotQuotable` with all it
    waits for, of the order, the rates and the prices; `Refused` for terms that cannot stand: 'valid_days'
    from 1 to 3650, 'deposit_percent' from 0 to 100, 'minutes.2026-118/1'.
    """
    found = order(session, number)
    if found.state not in BEFORE_AGREEMENT:
        raise MoveRefused(number, found.state, State.QUOTED, WhyNot.NO_SUCH_MOVE)
    typed = _typed_minutes(found, terms)
    facts = studio(session)
    today = day_of(now, facts.time_zone)
    rates = rates_on(session, today)
    rates = None if rates is None else _with_terms(rates, terms)
    return _drafted(session, found, facts, rates=rates, typed=typed, today=today)


def requotable(session: Session, number: str, *, now: datetime) -> QuoteDraft:
    """The quote that waits for its answer, drafted anew at the metal prices of today.

    Rates, planned minutes, days and the hallmark's rule are those it was made with, so that labour, outside
    work and assay cost to the minor unit what they did, and only the metal moves. Raises `OrderUnknown`,
    `MoveRefused` where no quote waits, `NotQuotable` for what is missing.
    """
    found = order(session, number)
    row = session.exec(
        select(QuoteRow)
        .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
        .where(
            col(OrderRow.number) == number,
            col(QuoteRow.state) == QuoteState.OPEN,
            col(QuoteRow.kind) == QuoteKind.QUOTE,
        )
    ).one_or_none()
    if row is None or found.state is not State.QUOTED:
        raise MoveRefused(number, found.state, State.QUOTED, WhyNot.NO_SUCH_MOVE)
    kept = row.frozen
    ways = {FIRST: kept["rings"], **{one["key"]: one["rings"] for one in kept.get("variants", ())}}
    minutes = {
        key: {place: ring["minutes"] for place, ring in enumerate(rings, 1)} for key, rings in ways.items()
    }
    facts = replace(studio(session), hallmark_rule=HallmarkRule(kept["studio"]["hallmark_rule"]))
    today = day_of(now, facts.time_zone)
    rates = rates_read(kept["rates"])
    return _drafted(session, found, facts, rates=rates, typed=minutes, today=today)


def _drafted(
    session: Session,
    found: Order,
    facts: Studio,
    *,
    rates: Rates | None,
    typed: Mapping[str, Mapping[int, int]],
    today: date,
) -> QuoteDraft:
    """The quote of `found` by these rates, the minutes typed by way and place; the rest by its route."""
    number = found.number
    ways = {FIRST: found.rings, **{one.key: one.rings for one in found.variants}}
    priced = {
        key: price_of(
            session,
            [ring.reckoning for ring in rings],
            day=today,
            particulars=[ring.particulars for ring in rings],
            minutes=typed.get(key),
            rates=rates,
            rule=facts.hallmark_rule,
        )
        for key, rings in ways.items()
    }
    waits = [*found.missing.quote]
    for key, rings in ways.items():
        waits += priced[key].missing
        if rates is None:
            waits += minutes_wanted([ring.reckoning for ring in rings], typed.get(key, {}))
    live = priced.pop(FIRST)
    if waits or live.breakdown is None or live.rates is None:
        raise NotQuotable(number, tuple(dict.fromkeys(waits)))
    revision = 1 + sum(one.kind is QuoteKind.QUOTE for one in found.quotes)
    valid_until = today + timedelta(days=live.rates.valid_days)
    name = f"{number}-q{revision}"
    return QuoteDraft(
        number=name,
        order_number=number,
        revision=revision,
        version=found.version,
        issued_on=today,
        valid_until=valid_until,
        breakdown=live.breakdown,
        rates=live.rates,
        prices=live.prices,
        stale=tuple(dict.fromkeys(old for one in (live, *priced.values()) for old in one.stale)),
        others={key: one.breakdown for key, one in priced.items() if one.breakdown is not None},
        frozen=frozen_quote(
            number=name,
            order=found,
            studio=facts,
            live=live,
            rates=live.rates,
            breakdown=live.breakdown,
            issued_on=today,
            valid_until=valid_until,
            variants=[(key, ways[key], one) for key, one in priced.items()],
        ),
    )


def _with_terms(rates: Rates, terms: QuoteTerms) -> Rates:
    found: list[Refusal] = []
    days = rates.valid_days if terms.valid_days is None else terms.valid_days
    deposit = rates.deposit_percent if terms.deposit_percent is None else Decimal(terms.deposit_percent)
    if not 1 <= days <= MOST_DAYS:
        why = Why.TOO_SMALL if days < 1 else Why.TOO_LARGE
        found.append(Refusal("valid_days", why, str(days)[:24], 1, MOST_DAYS, "days"))
    if not deposit.is_finite() or not 0 <= deposit <= 100:
        why = Why.TOO_LARGE if deposit.is_finite() and deposit > 100 else Why.TOO_SMALL
        found.append(Refusal("deposit_percent", why, str(deposit)[:24], 0, 100, "%"))
    if found:
        raise Refused(*found)
    return replace(rates, valid_days=days, deposit_percent=deposit)


def _typed_minutes(found: Order, terms: QuoteTerms) -> Mapping[str, Mapping[int, int]]:
    """The minutes typed for this quote, by the way to make it and the ring's place: '2026-118/1b'."""
    keys = (FIRST, *(one.key for one in found.variants))
    places = {
        f"{found.number}/{ring.position}{key.removeprefix(FIRST)}": (key, ring.position)
        for key in keys
        for ring in found.rings
    }
    refusals: list[Refusal] = []
    for name, minutes in terms.minutes.items():
        field = f"minutes.{name[:40]}"
        if name not in places:
            refusals.append(Refusal(field, Why.UNKNOWN_CHOICE, name[:24]))
        elif not 0 <= minutes <= MOST_MINUTES:
            why = Why.TOO_SMALL if minutes < 0 else Why.TOO_LARGE
            refusals.append(Refusal(field, why, str(minutes)[:24], 0, MOST_MINUTES, "minutes"))
    if refusals:
        raise Refused(*refusals)
    typed: dict[str, dict[int, int]] = {}
    for name, minutes in terms.minutes.items():
        key, position = places[name]
        typed.setdefault(key, {})[position] = minutes
    return typed
