"""What a list of orders says of the quotes and the yes of each, as columns of its one statement."""

from datetime import date, datetime

from sqlalchemy import SQLColumnExpression, false, func, true
from sqlalchemy import select as pick
from sqlmodel import col

from studio.book.answer_link_tables import AnswerLinkRow, Reply
from studio.book.order_tables import OrderRow
from studio.book.payment_reads import paid_minor
from studio.book.quote_tables import AgreementRow, QuoteRow
from studio.book.quote_values import QuoteState


def open_until() -> SQLColumnExpression[date | None]:
    """For a list of orders: the last day of the quote that waits for its answer, null where none does."""
    return (
        pick(col(QuoteRow.valid_until))
        .where(col(QuoteRow.order_id) == col(OrderRow.id), col(QuoteRow.state) == QuoteState.OPEN)
        .scalar_subquery()
        .label("quote_until")
    )


def said_no_at() -> SQLColumnExpression[datetime | None]:
    """For a list of orders: when the customer last said no, by their link, to the quote that waits."""
    return (
        pick(func.max(col(AnswerLinkRow.answered_at)))
        .join(QuoteRow, col(QuoteRow.id) == col(AnswerLinkRow.quote_id))
        .where(
            col(QuoteRow.order_id) == col(OrderRow.id),
            col(QuoteRow.state) == QuoteState.OPEN,
            col(AnswerLinkRow.reply) == Reply.NO,
        )
        .correlate(OrderRow)
        .scalar_subquery()
        .label("said_no_at")
    )


def has_open_deposit() -> SQLColumnExpression[bool]:
    """For a list of orders: whether it is agreed and its deposit neither paid in full nor waived.

    Read as a value and not as EXISTS, for which a server would read through all agreements there ever were.
    """
    is_open = (
        pick(true())
        .where(
            col(AgreementRow.order_id) == col(OrderRow.id),
            col(AgreementRow.ended_at).is_(None),
            col(AgreementRow.deposit_asked_minor) > 0,
            paid_minor() < col(AgreementRow.deposit_asked_minor),
            col(AgreementRow.without_deposit).is_(None),
        )
        .scalar_subquery()
    )
    return func.coalesce(is_open, false()).label("is_deposit_open")
