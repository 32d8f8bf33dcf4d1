"""Quotes as the API gives them."""

from collections.abc import Iterable
from datetime import datetime

from studio.book.outbox_values import Mail
from studio.book.quotes import Quote, QuoteState
from studio.craft.pricing import QuoteLine
from studio.web.api_quote_models import (
    MailOut,
    QuoteLineOut,
    QuoteNamedOut,
    QuoteOut,
    QuoteSeenOut,
    VariantOut,
)

EXPIRED = "expired"
"""How an open quote stands once its last day is over."""


def quote_out(quote: Quote) -> QuoteOut:
    """A quote as just issued."""
    return QuoteOut(
        number=quote.number,
        kind=quote.kind,
        revision=quote.revision,
        net_minor=quote.net_minor,
        tax_minor=quote.tax_minor,
        total_minor=quote.total_minor,
        deposit_minor=quote.deposit_minor,
        currency=quote.currency,
        valid_until=quote.valid_until,
        lines=_lines(quote.lines),
        variants=[
            VariantOut(
                key=one.key,
                net_minor=one.net_minor,
                tax_minor=one.tax_minor,
                total_minor=one.total_minor,
                deposit_minor=one.deposit_minor,
                lines=_lines(one.lines),
            )
            for one in quote.variants
        ],
        pdf=pdf_path(quote.number),
        sha256=quote.sha256,
    )


def _lines(lines: Iterable[QuoteLine]) -> list[QuoteLineOut]:
    return [
        QuoteLineOut(text=line.text, net_minor=line.net_minor, tax_minor=line.tax_minor) for line in lines
    ]


def mail_out(mail: Mail) -> MailOut:
    """A letter with a quote, and how far it has come."""
    return MailOut(
        id=mail.id,
        kind=mail.kind,
        to=mail.to,
        state=mail.state,
        queued_at=mail.queued_at,
        tries=mail.tries,
        next_try_at=mail.next_try_at,
        settled_at=mail.settled_at,
        answer=mail.answer,
    )


def quote_of_order_out(
    quote: Quote, *, shows_price: bool, shows_contact: bool, now: datetime
) -> QuoteSeenOut | QuoteNamedOut:
    """A quote of an order with how it stands at `now`; its money and letters only for who may see them."""
    if shows_price:
        told = quote_out(quote).model_dump()
        mails = [mail_out(mail) for mail in quote.mails] if shows_contact else None
        return QuoteSeenOut(**told, state=state_of(quote, now), issued_at=quote.issued_at, mails=mails)
    return QuoteNamedOut(
        number=quote.number,
        kind=quote.kind,
        revision=quote.revision,
        state=state_of(quote, now),
        valid_until=quote.valid_until,
        issued_at=quote.issued_at,
    )


def state_of(quote: Quote, now: datetime) -> str:
    """'open', 'expired', 'agreed' or 'superseded'."""
    if quote.state is QuoteState.OPEN and quote.has_expired(now):
        return EXPIRED
    return quote.state


def pdf_path(number: str) -> str:
    """Where the paper of a quote is."""
    return f"/quotes/{number}.pdf"
