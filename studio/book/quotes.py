"""The verbs of a quote: making it ready, issuing it, keeping its paper, noting how it was sent."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.agreements import agree, note_deposit
from studio.book.audit import note
from studio.book.errors import MoveRefused, NotQuotable, QuoteUnknown, VersionStale, WhyNot
from studio.book.frozen import frozen_quote
from studio.book.live_price import LivePrice, PlannedRing, minutes_wanted, price_of
from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.book.order_writing import locked_order, one_line, put_state, touch
from studio.book.quote_paper import paper_of, paper_of_issued
from studio.book.quote_reads import (
    papers_to_render,
    quote,
    quote_breakdown,
    quote_breakdowns,
    quote_pdf,
    quotes_of,
    sha256_of,
)
from studio.book.quote_tables import QuotePaperRow, QuoteRow, SendingRow
from studio.book.quote_values import (
    Agreement,
    Quote,
    QuoteDraft,
    QuoteKind,
    QuoteState,
    QuoteTerms,
    Sending,
    SentHow,
)
from studio.book.rate_limits import MOST_DAYS, MOST_MINUTES
from studio.book.rates import rates_on
from studio.book.standing import supersede, supersede_open
from studio.book.studio import studio
from studio.book.transaction import transaction
from studio.book.variants import FIRST
from studio.clock import day_of
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.pricing import PriceBreakdown
from studio.craft.rates import Rates

__all__ = [
    "Agreement",
    "LivePrice",
    "PlannedRing",
    "Quote",
    "QuoteDraft",
    "QuoteKind",
    "QuoteState",
    "QuoteTerms",
    "Sending",
    "SentHow",
    "agree",
    "issue_quote",
    "note_deposit",
    "note_sent",
    "paper_of",
    "paper_of_issued",
    "papers_to_render",
    "price_of",
    "put_pdf",
    "quotable",
    "quote",
    "quote_breakdown",
    "quote_breakdowns",
    "quote_pdf",
    "quotes_of",
]

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
    ways = {FIRST: found.rings, **{one.key: one.rings for one in found.variants}}
    priced = {
        key: price_of(
            session,
            [ring.reckoning for ring in rings],
            day=today,
            particulars=[ring.particulars for ring in rings],
            minutes=typed.get(key),
            rates=rates,
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


def issue_quote(
    session: Session, *, draft: QuoteDraft, pdf: bytes | None, actor: Actor, now: datetime
) -> Quote:
    """Issue the quote as drafted: its paper, lines and inputs are kept and never change; the order is quoted.

    The one that stood before is superseded. An amendment leaves the order's state and its agreed quote alone,
    and takes the place of one that waits for its answer.
    `pdf` is None where the paper follows (`put_pdf`). Raises `OrderUnknown`, and `VersionStale` when the
    order changed or another quote of it was issued since the draft was made: make it ready again.
    """
    with transaction(session):
        row = locked_order(session, draft.order_number, draft.version)
        last = len(
            session.exec(
                select(QuoteRow.id).where(col(QuoteRow.order_id) == row.id, col(QuoteRow.kind) == draft.kind)
            ).all()
        )
        if draft.revision != last + 1:
            raise VersionStale(draft.order_number, draft.version, row.version)
        is_amendment = draft.kind is QuoteKind.AMENDMENT
        before = (supersede_open if is_amendment else supersede)(session, row.id, now)
        price = draft.breakdown
        issued = QuoteRow(
            number=draft.number,
            order_id=row.id,
            kind=draft.kind,
            revision=draft.revision,
            state=QuoteState.OPEN,
            issued_at=now,
            user_id=actor.id,
            actor=actor.name,
            valid_until=draft.valid_until,
            currency=price.currency,
            net_minor=price.net_minor,
            tax_minor=price.tax_minor,
            total_minor=price.total_minor,
            deposit_minor=price.deposit_minor,
            lines=figures_kept(price)["lines"],
            variants=[
                {"key": key, **figures_kept(one)} for key, one in ({FIRST: price} | {**draft.others}).items()
            ]
            if draft.others
            else [],
            frozen=draft.frozen,
        )
        session.add(issued)
        session.flush()
        if pdf is not None:
            _keep(session, issued.id, pdf, now)
        said: dict[str, object] = {"quote": draft.number, "valid_until": draft.valid_until.isoformat()}
        if before is not None:
            said["superseded"] = before
        if is_amendment:
            row.amending = None
            touch(session, row, now)
            verb = "issue an amendment"
            note(session, actor=actor, now=now, verb=verb, order_id=row.id, new=said)
        else:
            put_state(session, row, State.QUOTED, verb="issue a quote", actor=actor, now=now, also=said)
    return quote(session, draft.number)


def figures_kept(price: PriceBreakdown) -> dict[str, Any]:
    """What a quote says of a price: its lines and their sums, as plain JSON values."""
    lines = [
        {"text": line.text, "net_minor": line.net_minor, "tax_minor": line.tax_minor} for line in price.lines
    ]
    sums = ("net_minor", "tax_minor", "total_minor", "deposit_minor")
    return {"lines": lines, **{name: getattr(price, name) for name in sums}}


def put_pdf(session: Session, *, number: str, pdf: bytes, now: datetime) -> Quote:
    """Keep the paper of a quote that was issued without one. A paper that is there already stays as it is.

    Raises `QuoteUnknown`.
    """
    with transaction(session):
        row = _row(session, number)
        if session.get(QuotePaperRow, row.id) is None:
            _keep(session, row.id, pdf, now)
    return quote(session, number)


def note_sent(session: Session, *, number: str, how: SentHow, to: str, actor: Actor, now: datetime) -> Quote:
    """Note that a quote left the studio, and how: nothing is sent by this. Raises `QuoteUnknown`.

    `to` is a name, an address or a number, as typed; up to 200 signs.
    """
    sent_to = one_line(to) or ""
    if len(sent_to) > 200:
        raise Refused(Refusal("to", Why.TOO_LONG, sent_to[:24], high=200, unit="signs"))
    with transaction(session):
        row = _row(session, number)
        session.add(
            SendingRow(quote_id=row.id, at=now, how=how, sent_to=sent_to, user_id=actor.id, actor=actor.name)
        )
        new = {"quote": number, "how": how}
        note(session, actor=actor, now=now, verb="send a quote", order_id=row.order_id, new=new)
    return quote(session, number)


def _keep(session: Session, quote_id: int, pdf: bytes, now: datetime) -> None:
    session.add(QuotePaperRow(quote_id=quote_id, pdf=pdf, sha256=sha256_of(pdf), rendered_at=now))


def _row(session: Session, number: str) -> QuoteRow:
    row = session.exec(select(QuoteRow).where(col(QuoteRow.number) == number).with_for_update()).one_or_none()
    if row is None:
        raise QuoteUnknown(number)
    return row


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
