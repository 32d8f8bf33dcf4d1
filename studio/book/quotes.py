"""The verbs of a quote: making it ready, issuing it, keeping its paper, noting how it was sent."""

from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.agreements import agree, waive_deposit
from studio.book.audit import note
from studio.book.errors import QuoteUnknown, VersionStale
from studio.book.live_price import LivePrice, PlannedRing, price_of
from studio.book.order_writing import locked_order, one_line, put_state, touch
from studio.book.quote_drafting import quotable, requotable
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
from studio.book.standing import supersede, supersede_open
from studio.book.transaction import transaction
from studio.book.variants import FIRST
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.orders import State
from studio.craft.pricing import PriceBreakdown

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
    "requotable",
    "waive_deposit",
]


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
