"""The quote that stands for an order, and the yes to it: what happens to both when the order moves."""

from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.order_tables import OrderRow
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteKind, QuoteState
from studio.craft.orders import State


def standing_quotes(session: Session, order_id: int) -> list[QuoteRow]:
    """The quotes of the order that are not superseded: at most one agreed, and after it one that waits."""
    return list(
        session.exec(
            select(QuoteRow)
            .where(col(QuoteRow.order_id) == order_id, col(QuoteRow.state) != QuoteState.SUPERSEDED)
            .order_by(col(QuoteRow.state))  # 'agreed' comes before 'open'
        ).all()
    )


def holding_agreement(session: Session, order_id: int) -> AgreementRow | None:
    """The yes that holds for the order: there is at most one."""
    return session.exec(
        select(AgreementRow).where(
            col(AgreementRow.order_id) == order_id, col(AgreementRow.ended_at).is_(None)
        )
    ).one_or_none()


def supersede(session: Session, order_id: int, now: datetime) -> str | None:
    """No quote of the order stands any more, nor a yes to one; the number of it, or None where none stood.

    Of an agreed one and an amendment that waits it is the agreed one's.
    """
    quotes = standing_quotes(session, order_id)
    if not quotes:
        return None
    agreement = holding_agreement(session, order_id)
    if agreement is not None:
        agreement.ended_at = now
        session.add(agreement)
    for quote in quotes:
        quote.state, quote.superseded_at = QuoteState.SUPERSEDED, now
        session.add(quote)
    session.flush()
    return quotes[0].number


def supersede_open(session: Session, order_id: int, now: datetime) -> str | None:
    """The quote or amendment that waits for its answer no longer does; its number, or None without one."""
    for quote in standing_quotes(session, order_id):
        if quote.state == QuoteState.OPEN:
            quote.state, quote.superseded_at = QuoteState.SUPERSEDED, now
            session.add(quote)
            session.flush()
            return quote.number
    return None


def draft_again(session: Session, order: OrderRow, now: datetime) -> dict[str, object]:
    """Let a quoted order be a draft, its quote superseded; what became of it, {} for a draft."""
    if order.state != State.QUOTED:
        return {}
    order.state, order.state_since = State.DRAFT, now
    number = supersede(session, order.id, now)
    return {"state": State.DRAFT} if number is None else {"state": State.DRAFT, "superseded": number}


def take_yes_back(session: Session, order: OrderRow, now: datetime) -> bool:
    """The quote waits for its answer again; False where nobody said yes to a quote."""
    agreement = holding_agreement(session, order.id)
    if agreement is None:
        return False
    quote = session.get_one(QuoteRow, agreement.quote_id)
    supersede_open(session, order.id, now)  # an amendment to what is not agreed any more
    agreement.ended_at, quote.state = now, QuoteState.OPEN
    order.agreed_name = order.agreed_at = order.amending = None
    session.add_all((agreement, quote, order))
    return True


def is_amended(session: Session, order_id: int) -> bool:
    """Whether the yes that holds for the order is one to an amendment."""
    agreement = holding_agreement(session, order_id)
    return agreement is not None and (
        session.get_one(QuoteRow, agreement.quote_id).kind == QuoteKind.AMENDMENT
    )


def end_agreed(session: Session, order_id: int, now: datetime) -> AgreementRow:
    """What was agreed no longer stands, since an amendment takes its place; the yes that was said to it."""
    agreement = session.exec(
        select(AgreementRow).where(
            col(AgreementRow.order_id) == order_id, col(AgreementRow.ended_at).is_(None)
        )
    ).one()
    quote = session.get_one(QuoteRow, agreement.quote_id)
    agreement.ended_at = quote.superseded_at = now
    quote.state = QuoteState.SUPERSEDED
    session.add_all((agreement, quote))
    session.flush()
    return agreement
