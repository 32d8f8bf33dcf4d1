"""What changes after the yes: an amendment is begun, put together, priced, issued and withdrawn.

An agreed quote is never edited. The amendment is a quote of its own kind, numbered 2026-118-a1, with a paper
and a yes of its own; until that yes the order stands as it was agreed.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.agreed_errors import NothingAmended
from studio.book.amendment_checks import check_something_changes, check_words, waits_for
from studio.book.audit import note
from studio.book.errors import NoAgreement, NotQuotable, QuoteAnswered, QuoteSuperseded, QuoteUnknown
from studio.book.frozen import as_agreed, charges_read, frozen_amendment, rings_read
from studio.book.live_price import minutes_wanted, price_of
from studio.book.metal_prices import metal_prices, shown_price_read
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow
from studio.book.order_values import Amending, Order, OrderRing, RingDraft
from studio.book.order_writing import locked_order, one_line, touch
from studio.book.quote_tables import QuoteRow
from studio.book.quote_values import QuoteDraft, QuoteKind, QuoteState
from studio.book.rate_limits import MOST_DAYS
from studio.book.rates import rates_read
from studio.book.ring_reads import as_chosen, carried_over, rings_in, rings_of
from studio.book.ring_sets import check_avoided_in, rings_kept
from studio.book.standing import holding_agreement
from studio.book.studio import studio
from studio.book.transaction import transaction
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.money import share
from studio.craft.orders import AMENDABLE, State
from studio.craft.pricing import PriceBreakdown, QuoteLine
from studio.craft.rates import Rates


def amending_of(found: Order) -> Amending:
    """The amendment of an order while nothing of it is changed yet. Raises `NoAgreement`."""
    if found.agreement is None:
        raise NoAgreement(found.number)
    terms = found.terms
    return Amending(
        rings=tuple(ring.draft for ring in found.rings),
        wanted_on=terms.wanted_on,
        wanted_hard=terms.wanted_hard,
        promised_at=terms.promised_at,
    )


def put_amending(
    session: Session, *, number: str, version: int, amending: Amending | None, actor: Actor, now: datetime
) -> Order:
    """Keep what an amendment is to say while it is put together; None lets go of it.

    The order itself stands as it was agreed. Raises `OrderUnknown`, `VersionStale`, `NothingAmended` where
    the order is not agreed, `NoAgreement` where no quote of it is, and `Refused` for what cannot stand.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        _check_amendable(session, row)
        kept = None if amending is None else _kept(session, row, amending, actor=actor, now=now)
        if kept != row.amending:
            row.amending = kept
            touch(session, row, now)
            verb = "drop an amendment" if amending is None else "put an amendment together"
            note(session, actor=actor, now=now, verb=verb, order_id=row.id)
    return order(session, number)


def amendable(
    session: Session,
    number: str,
    *,
    amending: Amending,
    valid_days: int | None = None,
    minutes: Mapping[int, int] | None = None,
    actor: Actor,
    now: datetime,
) -> QuoteDraft:
    """The amendment as it would be issued now, without writing anything.

    What does not change costs what it did: rates and metal prices are those the agreed quote was made with,
    and only a metal that it did not price takes the price of today. `minutes` are typed by the ring's place;
    a ring that stays keeps those typed for it. Raises as `put_amending` does, `NotQuotable` for what the
    price waits for, and `NothingAmended` where nothing would change.
    """
    found = order(session, number)
    row = session.exec(select(OrderRow).where(col(OrderRow.number) == number)).one()
    agreed = _check_amendable(session, row)
    kept = _kept(session, row, amending, actor=actor, now=now)
    rings = rings_in(session, kept["rings"])
    check_something_changes(found, rings, amending)
    facts = studio(session)
    today = day_of(now, facts.time_zone)
    rates = rates_read(agreed["rates"])
    typed = dict(_minutes_that_stay(agreed, rings)) | dict(minutes or {})
    then = {one["metal"]: shown_price_read(one) for one in agreed["prices"]}
    live = price_of(
        session,
        [ring.reckoning for ring in rings],
        day=today,
        particulars=[ring.particulars for ring in rings],
        minutes=typed,
        rates=rates,
        prices={**metal_prices(session, today), **then},
    )
    missing = [*waits_for(found, rings), *live.missing]
    if live.breakdown is None or missing:
        missing += minutes_wanted([ring.reckoning for ring in rings], typed) if live.rates is None else ()
        raise NotQuotable(number, tuple(missing))
    days = rates.valid_days if valid_days is None else valid_days
    if not 1 <= days <= MOST_DAYS:
        why = Why.TOO_SMALL if days < 1 else Why.TOO_LARGE
        raise Refused(Refusal("valid_days", why, str(days)[:24], 1, MOST_DAYS, "days"))
    revision = 1 + sum(one.kind is QuoteKind.AMENDMENT for one in found.quotes)
    charges = (*charges_read(agreed), *_charge(amending, rates))
    breakdown = _with_charges(live.breakdown, charges)
    if found.agreement is not None:
        asked = min(found.agreement.deposit_asked_minor, breakdown.total_minor)
        breakdown = replace(breakdown, deposit_minor=asked)
    name = f"{number}-a{revision}"
    valid_until = today + timedelta(days=days)
    return QuoteDraft(
        number=name,
        order_number=number,
        revision=revision,
        version=found.version,
        issued_on=today,
        valid_until=valid_until,
        breakdown=breakdown,
        rates=rates,
        prices=live.prices,
        stale=live.stale,
        frozen=frozen_amendment(
            number=name,
            order=found,
            rings=rings,
            kept=kept,
            charges=charges,
            amending=amending,
            agreed=agreed,
            studio=facts,
            live=live,
            rates=rates,
            breakdown=breakdown,
            issued_on=today,
            valid_until=valid_until,
        ),
        kind=QuoteKind.AMENDMENT,
    )


def withdraw_amendment(session: Session, *, number: str, actor: Actor, now: datetime) -> Order:
    """An amendment that nobody said yes to no longer waits for its answer; the order stands as agreed.

    Raises `QuoteUnknown` for what is no amendment, `QuoteAnswered`, `QuoteSuperseded`.
    """
    with transaction(session):
        found = session.exec(
            select(QuoteRow, OrderRow.number)
            .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
            .where(col(QuoteRow.number) == number, col(QuoteRow.kind) == QuoteKind.AMENDMENT)
        ).one_or_none()
        if found is None:
            raise QuoteUnknown(number)
        asked, order_number = found
        row = locked_order(session, order_number, None)
        session.refresh(asked)
        if asked.state == QuoteState.AGREED:
            raise QuoteAnswered(number)
        if asked.state == QuoteState.SUPERSEDED:
            raise QuoteSuperseded(number, None)
        asked.state, asked.superseded_at = QuoteState.SUPERSEDED, now
        session.add(asked)
        touch(session, row, now)
        new = {"quote": number}
        note(session, actor=actor, now=now, verb="withdraw an amendment", order_id=row.id, new=new)
    return order(session, order_number)


def amended_rings(session: Session, found: Order) -> tuple[OrderRing, ...]:
    """The rings of the amendment that is being put together, with all their figures; none without one."""
    row = session.exec(select(OrderRow).where(col(OrderRow.number) == found.number)).one()
    if row.amending is None:
        return ()
    kept = carried_over(row.amending["rings"], row.amending.get("base", ()), found.rings)
    return rings_in(session, kept)


def _check_amendable(session: Session, row: OrderRow) -> Mapping[str, Any]:
    """What the agreed quote keeps; refused where there is none, or the order is past changing."""
    if row.state not in AMENDABLE:
        raise NothingAmended(row.number, State(row.state), "an amendment changes what is agreed")
    agreement = holding_agreement(session, row.id)
    if agreement is None:
        raise NoAgreement(row.number)
    return as_agreed(session.get_one(QuoteRow, agreement.quote_id).frozen, agreement.variant)


def _kept(
    session: Session, row: OrderRow, amending: Amending, *, actor: Actor, now: datetime
) -> dict[str, Any]:
    """The amendment as the order's row keeps it. Raises `Refused` for what cannot stand."""
    check_words(amending)
    before = () if row.amending is None else row.amending["rings"]
    rings = rings_kept(session, row, amending.rings, before=before, actor=actor, now=now)
    check_avoided_in(session, row, rings)
    return {
        "rings": rings,
        "base": as_chosen(rings_of(session, row.id)),
        "wanted_on": _iso(amending.wanted_on),
        "wanted_hard": amending.wanted_hard,
        "promised_at": _iso(amending.promised_at),
        "words": amending.words.strip(),
        "charge_text": one_line(amending.charge_text) or "",
        "charge_minor": amending.charge_minor,
    }


def _minutes_that_stay(agreed: Mapping[str, Any], rings: Sequence[OrderRing]) -> dict[int, int]:
    """The minutes that were quoted for rings whose design the amendment leaves as it was."""
    before = zip(agreed["rings"], rings_read(agreed["rings"]), rings, strict=False)
    return {
        ring.position: kept["minutes"] for kept, old, ring in before if old.reckoning.design == ring.design
    }


def _charge(amending: Amending, rates: Rates) -> tuple[QuoteLine, ...]:
    """What the change costs besides, as a line of its own with its tax."""
    if not amending.charge_minor:
        return ()
    text = one_line(amending.charge_text) or ""
    return (QuoteLine(text, amending.charge_minor, share(amending.charge_minor, rates.tax_percent)),)


def _with_charges(breakdown: PriceBreakdown, charges: Sequence[QuoteLine]) -> PriceBreakdown:
    """The price with what the changes so far cost besides: what was charged for an earlier one stays."""
    net = breakdown.net_minor + sum(line.net_minor for line in charges)
    tax = breakdown.tax_minor + sum(line.tax_minor for line in charges)
    lines = (*breakdown.lines, *charges)
    return replace(breakdown, lines=lines, net_minor=net, tax_minor=tax, total_minor=net + tax)


def _iso(day: date | datetime | None) -> str | None:
    return None if day is None else day.isoformat()


def asked_again(amending: Amending, position: int, draft: RingDraft) -> Amending:
    """The amendment with another ring at `position`, counted from 1."""
    rings = tuple(draft if place == position else ring for place, ring in enumerate(amending.rings, start=1))
    return replace(amending, rings=rings)
