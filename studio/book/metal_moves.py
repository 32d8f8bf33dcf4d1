"""When metal moves: what open quotes would come to today, and what agreed orders still have to be bought."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Select, func
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.customer_tables import CustomerRow
from studio.book.errors import NotQuotable
from studio.book.metal_prices import metal_prices
from studio.book.order_tables import OrderRow, RingRow
from studio.book.piece_tables import PieceRow
from studio.book.quote_drafting import requotable
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.rate_tables import MetalPriceRow
from studio.book.rates import rates_on
from studio.book.studio import currency_of, time_zone
from studio.book.variants import FIRST
from studio.clock import day_of
from studio.craft.metals import Alloy
from studio.craft.orders import COUNTED_FOR_THE_WEEK, State
from studio.craft.pricing import PriceMissing, metal_minor
from studio.craft.promised import Promised, PromisedRing, promised
from studio.craft.rates import MetalPrice, Rates, WeightUnit

MOST_QUOTES = 100
"""So many open quotes are reckoned anew on one page, those that end first."""


@dataclass(frozen=True, slots=True)
class MovedWay:
    """One way to make it, by its key, what it says and what it would say today, in minor units.

    `now_minor` is None while the price waits for something.
    """

    key: str
    total_minor: int
    now_minor: int | None

    @property
    def difference_minor(self) -> int | None:
        """How much more it would be today; less is below 0."""
        return None if self.now_minor is None else self.now_minor - self.total_minor


@dataclass(frozen=True, slots=True)
class MovedQuote:
    """An open quote beside today: each of its `ways`, the first first; one alone without a choice.

    `missing` says what its price of today waits for, `metals` whose prices it stands on.
    """

    number: str
    order_number: str
    customer: str
    issued_on: date
    valid_until: date
    has_ended: bool
    currency: str
    ways: tuple[MovedWay, ...]
    metals: frozenset[str]
    missing: tuple[str, ...] = ()

    @property
    def has_moved(self) -> bool:
        """Whether any way would cost otherwise today."""
        return any(way.difference_minor for way in self.ways)


@dataclass(frozen=True, slots=True)
class PromisedMetal:
    """One alloy promised and not yet bought; `now_minor` is what to buy costs today, None without a price."""

    promised: Promised
    alloy_name: str
    now_minor: int | None


def moved_quotes(session: Session, *, now: datetime) -> tuple[MovedQuote, ...]:
    """The quotes that wait for their answer, those that end first, each beside what it would be today.

    With the rates and minutes it was made with: the metal alone moves.
    """
    zone = time_zone(session)
    today = day_of(now, zone)
    wanted: Select[*tuple[Any, ...]] = (
        pick(
            col(QuoteRow.number),
            col(OrderRow.number).label("order_number"),
            col(CustomerRow.name).label("customer"),
            col(QuoteRow.issued_at),
            col(QuoteRow.valid_until),
            col(QuoteRow.currency),
            col(QuoteRow.total_minor),
            col(QuoteRow.variants),
            col(QuoteRow.frozen),
        )
        .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
        .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
        .where(
            col(OrderRow.state) == State.QUOTED,
            col(QuoteRow.state) == QuoteState.OPEN,
            col(QuoteRow.kind) == QuoteKind.QUOTE,
        )
        .order_by(col(QuoteRow.valid_until), col(QuoteRow.id))
        .limit(MOST_QUOTES)
    )
    rows = session.connection().execute(wanted)
    found: list[MovedQuote] = []
    for row in rows.all():
        totals, missing = _totals_today(session, row.order_number, now)
        then = {FIRST: row.total_minor} | {one["key"]: one["total_minor"] for one in row.variants}
        found.append(
            MovedQuote(
                row.number,
                row.order_number,
                row.customer,
                day_of(row.issued_at, zone),
                row.valid_until,
                row.valid_until < today,
                row.currency,
                tuple(MovedWay(key, total_minor, totals.get(key)) for key, total_minor in then.items()),
                frozenset(price["metal"] for price in row.frozen["prices"]),
                missing,
            )
        )
    return tuple(found)


def promised_metal(
    session: Session, *, alloys: Mapping[str, Alloy], now: datetime
) -> tuple[PromisedMetal, ...]:
    """What agreed orders and those at the bench need beyond what lies aside for them, by alloy.

    A ring whose blank is cut needs none. `alloys` are those the studio knows, by key.
    """
    today = day_of(now, time_zone(session))
    rates, prices = rates_on(session, today), metal_prices(session, today)
    found = promised(_rings(session), _aside(session))
    return tuple(
        PromisedMetal(
            one,
            alloys[one.alloy].name if one.alloy in alloys else one.alloy,
            None
            if rates is None or one.alloy not in alloys
            else _cost(alloys[one.alloy], one.to_buy_mg, prices, rates),
        )
        for one in found
    )


def price_over_time(session: Session, metal: str) -> tuple[tuple[date, Decimal], ...]:
    """What a gram of a metal cost from each day on that a price was put in for, the first day first.

    On one day the price entered last counts; prices in another currency than the studio's of today are none.
    """
    rows = session.exec(
        select(MetalPriceRow)
        .where(col(MetalPriceRow.metal) == metal, col(MetalPriceRow.currency) == currency_of(session))
        .order_by(col(MetalPriceRow.on_day), col(MetalPriceRow.id))
    ).all()
    by_day = {
        row.on_day: MetalPrice(
            row.metal, Decimal(row.price), WeightUnit(row.unit), row.on_day, row.source
        ).per_gram
        for row in rows
    }
    return tuple(by_day.items())


def _totals_today(session: Session, number: str, now: datetime) -> tuple[dict[str, int], tuple[str, ...]]:
    """What each way of the quote that waits would come to, by its key, and what that waits for."""
    try:
        draft = requotable(session, number, now=now)
    except NotQuotable as waits:
        return {}, waits.missing
    found = {FIRST: draft.breakdown, **draft.others}
    return {key: price.total_minor for key, price in found.items()}, ()


def _rings(session: Session) -> list[PromisedRing]:
    rows = session.exec(
        select(RingRow, OrderRow.number, AgreementRow.variant, QuoteRow.frozen)
        .join(OrderRow, col(OrderRow.id) == col(RingRow.order_id))
        .outerjoin(
            AgreementRow,
            (col(AgreementRow.order_id) == col(OrderRow.id)) & col(AgreementRow.ended_at).is_(None),
        )
        .outerjoin(QuoteRow, col(QuoteRow.id) == col(AgreementRow.quote_id))
        .where(col(OrderRow.state).in_(COUNTED_FOR_THE_WEEK), col(RingRow.cut_id).is_(None))
        .order_by(col(OrderRow.id), col(RingRow.position))
    ).all()
    return [
        PromisedRing(number, ring.alloy, ring.issue_mg, quoted_metal(frozen, variant, ring.position))
        for ring, number, variant, frozen in rows
    ]


def quoted_metal(frozen: Any, variant: str | None, position: int) -> int | None:
    """What the metal of a ring cost in what a quote keeps, by the way that was chosen; None where unknown."""
    if frozen is None:
        return None
    chosen = next((one for one in frozen.get("variants", ()) if one["key"] == variant), frozen)
    rings = chosen["breakdown"]["rings"]
    return int(rings[position - 1]["metal_minor"]) if position <= len(rings) else None


def _aside(session: Session) -> dict[tuple[str, str], int]:
    rows = session.connection().execute(
        pick(col(OrderRow.number), col(PieceRow.alloy), func.sum(col(PieceRow.mass_mg)))
        .join(OrderRow, col(OrderRow.id) == col(PieceRow.order_id))
        .where(col(PieceRow.gone) == "")
        .group_by(col(OrderRow.number), col(PieceRow.alloy))
    )
    return {(number, alloy): int(mass) for number, alloy, mass in rows.all()}


def _cost(alloy: Alloy, mass_mg: int, prices: Mapping[str, MetalPrice], rates: Rates) -> int | None:
    try:
        return metal_minor(alloy, mass_mg, prices, rates)
    except PriceMissing:
        return None
