"""The yes to a quote, and its deposit."""

from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.agreed_errors import VariantNotSaid, VariantUnknown
from studio.book.amended_rings import put_amended
from studio.book.audit import note
from studio.book.errors import (
    MoveRefused,
    NoAgreement,
    QuoteAnswered,
    QuoteExpired,
    QuoteSuperseded,
    QuoteUnknown,
    WhyNot,
)
from studio.book.order_reads import order
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order
from studio.book.order_writing import locked_order, one_line, put_state, touch
from studio.book.quote_reads import end_of_day
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.standing import end_agreed, holding_agreement, standing_quotes
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.book.variants import put_chosen
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.money import from_minor
from studio.craft.orders import AMENDABLE, State


def agree(
    session: Session,
    *,
    quote: str,
    name: str,
    variant: str | None = None,
    deposit_minor: int | None = None,
    without_deposit: str | None = None,
    reason: str | None = None,
    actor: Actor,
    now: datetime,
) -> Order:
    """Note the yes that somebody called `name` said to a quote: the order is agreed, its rings stand.

    `deposit_minor` is what was paid with the yes, `without_deposit` why the work may begin without all of it.
    A deposit that is asked for stays open with neither, and with less than was asked and no reason.
    A yes to an amendment lets its rings and days be the order's, which stays where it is; one that was ready
    goes back to the bench with a changed ring. What was paid stays paid.
    A quote that offers a choice wants the key of a `variant`, whose rings become the order's.
    A quote that has run out wants a `reason`. Raises `QuoteUnknown`, `VariantNotSaid`,
    `VariantUnknown`, `QuoteSuperseded`, `QuoteAnswered`,
    `QuoteExpired`; `MoveRefused` without a name, or where the order no longer waits for an answer; `Refused`
    for an amount that cannot be.
    """
    who, why = one_line(name), one_line(reason)
    with transaction(session):
        found = session.exec(
            select(QuoteRow, OrderRow.number)
            .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
            .where(col(QuoteRow.number) == quote)
        ).one_or_none()
        if found is None:
            raise QuoteUnknown(quote)
        asked, number = found
        row = locked_order(session, number, None)
        session.refresh(asked)  # it may have been superseded before the order was ours
        _check_standing(session, asked)
        is_amendment = asked.kind == QuoteKind.AMENDMENT
        if row.state not in (AMENDABLE if is_amendment else {State.QUOTED}):
            raise MoveRefused(number, State(row.state), State.AGREED, WhyNot.NO_SUCH_MOVE)
        if who is None:
            raise MoveRefused(number, State(row.state), State.AGREED, WhyNot.NEEDS_NAME)
        if now >= end_of_day(asked.valid_until, time_zone(session)) and why is None:
            raise QuoteExpired(quote, asked.valid_until)
        chosen = chosen_variant(asked, variant)
        agreement = AgreementRow(
            order_id=row.id,
            quote_id=asked.id,
            name=who,
            variant=None if chosen is None else chosen["key"],
            agreed_at=now,
            user_id=actor.id,
            actor=actor.name,
            reason=why,
            deposit_asked_minor=asked.deposit_minor if chosen is None else chosen["deposit_minor"],
        )
        state, more = State.AGREED, dict[str, object]()
        if is_amendment:
            before = end_agreed(session, row.id, now)
            _take_deposit_over(agreement, before, asked.total_minor)
            state, more = put_amended(session, row, asked.frozen, actor=actor, now=now)
        _put_deposit(agreement, asked, deposit_minor, one_line(without_deposit), actor=actor, now=now)
        if agreement.variant is not None:
            put_chosen(session, row, agreement.variant, actor=actor, now=now)
        asked.state = QuoteState.AGREED
        session.add_all((asked, agreement))
        row.agreed_name, row.agreed_at = who, now
        put_state(
            session,
            row,
            state,
            verb="note the yes",
            actor=actor,
            now=now,
            reason=why,
            also={
                "agreed_name": who,
                "quote": quote,
                **_said(agreement),
                **_deposit_shown(agreement),
                **more,
            },
        )
    return order(session, number)


def note_deposit(
    session: Session,
    *,
    number: str,
    amount_minor: int | None = None,
    without_deposit: str | None = None,
    version: int | None = None,
    actor: Actor,
    now: datetime,
) -> Order:
    """Note what was paid of an agreed order's deposit, why the work may begin without all of it; or both.

    What is said takes the place of what was noted before; 0 says that nothing was paid after all.
    Raises `OrderUnknown`, `VersionStale`, `NoAgreement` where no quote of the order is agreed, and `Refused`
    where neither is said or the amount cannot be.
    """
    why = one_line(without_deposit)
    if amount_minor is None and why is None:
        raise Refused(Refusal("deposit_minor", Why.EMPTY))
    with transaction(session):
        row = locked_order(session, number, version)
        agreement = holding_agreement(session, row.id)
        if agreement is None:
            raise NoAgreement(number)
        old = _deposit_shown(agreement)
        quote = session.get_one(QuoteRow, agreement.quote_id)
        _put_deposit(agreement, quote, amount_minor, why, actor=actor, now=now)
        new = _deposit_shown(agreement)
        if new != old:
            session.add(agreement)
            touch(session, row, now)
            note(session, actor=actor, now=now, verb="note the deposit", order_id=row.id, old=old, new=new)
    return order(session, number)


def begin_without_deposit(
    session: Session, row: OrderRow, *, why: str, actor: Actor, now: datetime
) -> dict[str, object]:
    """Let the work begin with the deposit open: `why` stands in the order's yes, and a part paid stays paid.

    Inside a transaction that holds `row`. What it now says of the deposit, for the history. Raises
    `NoAgreement` where no yes to a quote holds.
    """
    agreement = holding_agreement(session, row.id)
    if agreement is None:
        raise NoAgreement(row.number)
    agreement.without_deposit = why
    agreement.deposit_at, agreement.deposit_actor = now, actor.name
    session.add(agreement)
    return _deposit_shown(agreement)


def _check_standing(session: Session, asked: QuoteRow) -> None:
    if asked.state == QuoteState.AGREED:
        raise QuoteAnswered(asked.number)
    if asked.state == QuoteState.SUPERSEDED:
        standing = standing_quotes(session, asked.order_id)
        raise QuoteSuperseded(asked.number, standing[0].number if standing else None)


def _put_deposit(
    agreement: AgreementRow,
    quote: QuoteRow,
    amount_minor: int | None,
    without: str | None,
    *,
    actor: Actor,
    now: datetime,
) -> None:
    if amount_minor is None and without is None:
        return
    chosen = chosen_variant(quote, agreement.variant)
    total_minor = quote.total_minor if chosen is None else chosen["total_minor"]
    if amount_minor == 0 and (not agreement.deposit_asked_minor or agreement.deposit_minor is not None):
        amount_minor = None  # nothing was asked for, or nothing was paid after all
    is_new = amount_minor != agreement.deposit_minor  # an amendment may come to less than was paid
    if amount_minor is not None and is_new and not 0 < amount_minor <= total_minor:
        most = float(from_minor(total_minor, quote.currency))
        why = Why.NOT_ABOVE_ZERO if amount_minor <= 0 else Why.TOO_LARGE
        typed = str(from_minor(amount_minor, quote.currency))[:24]
        raise Refused(Refusal("deposit_minor", why, typed, 0, most, quote.currency))
    if (agreement.deposit_minor, agreement.without_deposit) != (amount_minor, without):
        agreement.deposit_minor, agreement.without_deposit = amount_minor, without
        agreement.deposit_at, agreement.deposit_actor = now, actor.name


def _take_deposit_over(agreement: AgreementRow, before: AgreementRow, total_minor: int) -> None:
    """What was asked, at most the whole, and paid with the yes that the amendment takes the place of."""
    agreement.deposit_asked_minor = min(before.deposit_asked_minor, total_minor)
    for name in ("minor", "at", "actor"):
        setattr(agreement, f"deposit_{name}", getattr(before, f"deposit_{name}"))
    agreement.without_deposit = before.without_deposit


def chosen_variant(quote: QuoteRow, key: str | None) -> dict[str, Any] | None:
    """The figures of the variant that the yes chose; None for a quote without a choice."""
    offered: dict[str, dict[str, Any]] = {one["key"]: one for one in quote.variants}
    if key is None and offered:
        raise VariantNotSaid(quote.number, tuple(offered))
    if key is not None and key not in offered:
        raise VariantUnknown(quote.number, key)
    return None if key is None else offered[key]


def _said(agreement: AgreementRow) -> dict[str, object]:
    return {} if agreement.variant is None else {"variant": agreement.variant}


def _deposit_shown(agreement: AgreementRow) -> dict[str, object]:
    """The deposit as plain JSON values, for the history; nothing where nothing was said."""
    facts = {"deposit_minor": agreement.deposit_minor, "without_deposit": agreement.without_deposit}
    return {name: value for name, value in facts.items() if value is not None}
