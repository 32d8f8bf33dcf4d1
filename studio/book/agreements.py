"""The yes to a quote, and why its work may begin without the deposit."""

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
from studio.book.payment_reads import payments_of
from studio.book.payment_tables import PaymentRow
from studio.book.payment_values import Sum
from studio.book.payment_writing import check_sum, put_payment
from studio.book.quote_reads import end_of_day
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.standing import end_agreed, holding_agreement, standing_quotes
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.book.variants import put_chosen
from studio.craft.orders import AMENDABLE, State


def agree(
    session: Session,
    *,
    quote: str,
    name: str,
    variant: str | None = None,
    deposit: Sum | None = None,
    without_deposit: str | None = None,
    reason: str | None = None,
    actor: Actor,
    now: datetime,
) -> Order:
    """Note the yes that somebody called `name` said to a quote: the order is agreed, its rings stand.

    `deposit` is what was paid with the yes, `without_deposit` why the work may begin without all of it.
    A deposit that is asked for stays open with neither, and with less than was asked and no reason.
    A yes to an amendment lets its rings and days be the order's, which stays where it is; one that was ready
    goes back to the bench with a changed ring. What was paid of the order stays paid.
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
        total_minor = asked.total_minor if chosen is None else int(chosen["total_minor"])
        state, more = State.AGREED, dict[str, object]()
        if is_amendment:
            before = end_agreed(session, row.id, now)
            _take_deposit_over(agreement, before, total_minor)
            state, more = put_amended(session, row, asked.frozen, actor=actor, now=now)
        _waive(agreement, one_line(without_deposit), actor=actor, now=now)
        paid = None
        if deposit is not None and (deposit.amount_minor or agreement.deposit_asked_minor):
            left = total_minor - sum(one.amount_minor for one in payments_of(session, row.id))
            check_sum(session, deposit, left, asked.currency, now, field="deposit_minor")
            paid = put_payment(
                session, row, deposit, currency=asked.currency, due_minor=total_minor, actor=actor, now=now
            )
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
                **_deposit_shown(agreement, paid),
                **more,
            },
        )
    return order(session, number)


def waive_deposit(
    session: Session, *, number: str, why: str | None, version: int | None = None, actor: Actor, now: datetime
) -> Order:
    """Say why the work on an agreed order may begin without all of its deposit; None waits for it after all.

    Raises `OrderUnknown`, `VersionStale`, and `NoAgreement` where no quote of the order is agreed.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        agreement = holding_agreement(session, row.id)
        if agreement is None:
            raise NoAgreement(number)
        old, said = agreement.without_deposit, one_line(why)
        if said != old:
            agreement.without_deposit = said
            agreement.deposit_at, agreement.deposit_actor = now, actor.name
            session.add(agreement)
            touch(session, row, now)
            note(
                session,
                actor=actor,
                now=now,
                verb="note the deposit",
                order_id=row.id,
                old={"without_deposit": old},
                new={"without_deposit": said},
            )
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
    _waive(agreement, why, actor=actor, now=now)
    session.add(agreement)
    return _deposit_shown(agreement)


def _check_standing(session: Session, asked: QuoteRow) -> None:
    if asked.state == QuoteState.AGREED:
        raise QuoteAnswered(asked.number)
    if asked.state == QuoteState.SUPERSEDED:
        standing = standing_quotes(session, asked.order_id)
        raise QuoteSuperseded(asked.number, standing[0].number if standing else None)


def _waive(agreement: AgreementRow, why: str | None, *, actor: Actor, now: datetime) -> None:
    if why is not None:
        agreement.without_deposit = why
        agreement.deposit_at, agreement.deposit_actor = now, actor.name


def _take_deposit_over(agreement: AgreementRow, before: AgreementRow, total_minor: int) -> None:
    """What was asked with the yes that the amendment takes the place of, at most the whole."""
    agreement.deposit_asked_minor = min(before.deposit_asked_minor, total_minor)
    for name in ("without_deposit", "deposit_at", "deposit_actor"):
        setattr(agreement, name, getattr(before, name))


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


def _deposit_shown(agreement: AgreementRow, paid: PaymentRow | None = None) -> dict[str, object]:
    """The deposit as plain JSON values, for the history; nothing where nothing was said."""
    facts: dict[str, object | None] = {"without_deposit": agreement.without_deposit}
    if paid is not None:
        facts |= {"payment": paid.number, "amount_minor": paid.amount_minor}
    return {name: value for name, value in facts.items() if value is not None}
