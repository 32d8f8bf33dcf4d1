"""The quote that stands for an order, and the yes to it: what happens to both when the order moves."""

from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.order_tables import OrderRow
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteState


def standing_quote(session: Session, order_id: int) -> QuoteRow | None:
    """The quote of the order that is not superseded: there is at most one."""
    return session.exec(
        select(QuoteRow).where(
            col(QuoteRow.order_id) == order_id, col(QuoteRow.state) != QuoteState.SUPERSEDED
        )
    ).one_or_none()


def holding_agreement(session: Session, order_id: int) -> AgreementRow | None:
    """The yes that holds for the order: there is at most one."""
    return session.exec(
        select(AgreementRow).where(
            col(AgreementRow.order_id) == order_id, col(AgreementRow.ended_at).is_(None)
        )
    ).one_or_none()


def supersede(session: Session, order_id: int, now: datetime) -> str | None:
    """The order's quote no longer stands, nor a yes to it; its number, or None where none stood."""
    quote = standing_quote(session, order_id)
    if quote is None:
        return None
    agreement = holding_agreement(session, order_id)
    if agreement is not None:
        agreement.ended_at = now
        session.add(agreement)
    quote.state, quote.superseded_at = QuoteState.SUPERSEDED, now
    session.add(quote)
    session.flush()
    return quote.number


def take_yes_back(session: Session, order: OrderRow, now: datetime) -> bool:
    """The quote waits for its answer again; False where nobody said yes to a quote."""
    agreement = holding_agreement(session, order.id)
    if agreement is None:
        return False
    quote = session.get_one(QuoteRow, agreement.quote_id)
    agreement.ended_at, quote.state = now, QuoteState.OPEN
    order.agreed_name = order.agreed_at = None
    session.add_all((agreement, quote, order))
    return True
