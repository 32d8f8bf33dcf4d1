"""Reading quotes, their papers, and the yes to them."""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Select, SQLColumnExpression, bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.errors import QuotePdfNotYet, QuoteUnknown
from studio.book.frozen import breakdown_read
from studio.book.order_tables import OrderRow
from studio.book.outbox_tables import OutboxRow
from studio.book.outbox_values import About, Mail, MailKind, MailState
from studio.book.payment_values import Payment
from studio.book.quote_tables import QuotePaperRow, QuoteRow, SendingRow
from studio.book.quote_values import Agreement, Quote, QuotedVariant, QuoteKind, QuoteState, Sending, SentHow
from studio.book.rate_tables import RatesRow
from studio.book.standing import holding_agreement
from studio.book.studio import StudioRow
from studio.craft.missing import Deposit
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.pricing import PriceBreakdown, QuoteLine


def quote(session: Session, number: str) -> Quote:
    """The quote of this number. Raises `QuoteUnknown`."""
    found = _quotes(session, _BY_NUMBER, number)
    if not found:
        raise QuoteUnknown(number)
    return found[0]


def quotes_of(session: Session, order_number: str) -> tuple[Quote, ...]:
    """The quotes of one order, the first revision first."""
    return tuple(_quotes(session, _BY_ORDER, order_number))


def quote_pdf(session: Session, number: str) -> bytes:
    """The paper of a quote, byte for byte as it was issued. Raises `QuoteUnknown`, and `QuotePdfNotYet`."""
    found = session.exec(
        select(QuoteRow.id, QuotePaperRow.pdf)
        .join(QuotePaperRow, col(QuotePaperRow.quote_id) == col(QuoteRow.id), isouter=True)
        .where(col(QuoteRow.number) == number)
    ).one_or_none()
    if found is None:
        raise QuoteUnknown(number)
    if found[1] is None:
        raise QuotePdfNotYet(number)
    return found[1]


def papers_to_render(session: Session) -> list[str]:
    """The numbers of the quotes whose paper is not made yet, those that stand first, then the newest."""
    found = session.exec(
        select(QuoteRow.number)
        .join(QuotePaperRow, col(QuotePaperRow.quote_id) == col(QuoteRow.id), isouter=True)
        .where(col(QuotePaperRow.quote_id).is_(None))
        .order_by(col(QuoteRow.state) == QuoteState.SUPERSEDED, col(QuoteRow.id).desc())
    )
    return list(found)


def quote_breakdown(session: Session, number: str) -> PriceBreakdown:
    """What a quote cost and earned when it was issued, for the studio's eyes. Raises `QuoteUnknown`.

    Of a quote with a choice it is the first way's.
    """
    return next(iter(quote_breakdowns(session, number).values()))


def quote_breakdowns(session: Session, number: str) -> dict[str, PriceBreakdown]:
    """What each way to make it cost and earned, by its key, the first way first. Raises `QuoteUnknown`."""
    frozen = session.exec(select(QuoteRow.frozen).where(col(QuoteRow.number) == number)).one_or_none()
    if frozen is None:
        raise QuoteUnknown(number)
    others = frozen.get("variants", ())
    return {"a": breakdown_read(frozen["breakdown"])} | {
        one["key"]: breakdown_read(one["breakdown"]) for one in others
    }


def agreement_of(
    session: Session, order_id: int, quotes: Sequence[Quote], payments: Sequence[Payment] = ()
) -> Agreement | None:
    """The yes that holds for an order with these quotes, or None; one older than the quotes is none.

    `payments` are those of the order.
    """
    agreed = next((found for found in quotes if found.state is QuoteState.AGREED), None)
    row = None if agreed is None else holding_agreement(session, order_id)
    if agreed is None or row is None:
        return None
    chosen = next((one for one in agreed.variants if one.key == row.variant), agreed)
    return Agreement(
        quote_number=agreed.number,
        is_amended=agreed.kind is QuoteKind.AMENDMENT,
        total_minor=chosen.total_minor,
        variant=row.variant,
        name=row.name,
        agreed_at=row.agreed_at,
        noted_by=row.actor,
        reason=row.reason,
        currency=agreed.currency,
        deposit_asked_minor=row.deposit_asked_minor,
        paid_minor=sum(one.amount_minor for one in payments),
        paid_on=max((one.on for one in payments if one.counts and one.amount_minor > 0), default=None),
        without_deposit=row.without_deposit,
        waived_at=row.deposit_at if row.without_deposit else None,
        waived_by=row.deposit_actor if row.without_deposit else None,
    )


def deposit_of(
    session: Session, state: State, quotes: Sequence[Quote], agreement: Agreement | None
) -> Deposit:
    """How it stands with the deposit of an order.

    Before the yes it is open where the standing quote asks for one, and without a quote where the studio's
    rates do or are not known yet; after it the agreement says. A yes older than the quotes was never asked.
    """
    if agreement is not None:
        return agreement.deposit
    if state not in BEFORE_AGREEMENT:
        return Deposit.NOT_ASKED
    standing = next((found for found in quotes if found.state is QuoteState.OPEN), None)
    if standing is not None:
        asked: int | None = standing.deposit_minor
    else:
        asked = session.exec(select(RatesRow.deposit_bp).order_by(col(RatesRow.id).desc()).limit(1)).first()
    return Deposit.NOT_ASKED if asked == 0 else Deposit.OPEN


def end_of_day(day: date, zone: str) -> datetime:
    """The moment in UTC when `day` is over in `zone`: midnight there, whatever the clocks do that night."""
    midnight = datetime.combine(day + timedelta(days=1), time(), ZoneInfo(zone))
    return midnight.astimezone(UTC)


def sha256_of(pdf: bytes) -> str:
    """The fingerprint of a paper, in hexadecimal."""
    return hashlib.sha256(pdf).hexdigest()


_LISTED: tuple[SQLColumnExpression[Any], ...] = (
    col(QuoteRow.id),
    col(QuoteRow.number),
    col(OrderRow.number).label("order_number"),
    col(QuoteRow.kind),
    col(QuoteRow.revision),
    col(QuoteRow.state),
    col(QuoteRow.issued_at),
    col(QuoteRow.actor),
    col(QuoteRow.valid_until),
    col(QuoteRow.currency),
    col(QuoteRow.lines),
    col(QuoteRow.variants),
    col(QuoteRow.net_minor),
    col(QuoteRow.tax_minor),
    col(QuoteRow.total_minor),
    col(QuoteRow.deposit_minor),
    col(QuoteRow.superseded_at),
    col(QuotePaperRow.sha256),
    col(QuotePaperRow.rendered_at),
    pick(col(StudioRow.time_zone)).scalar_subquery().label("zone"),
)
# Quotes by columns: the papers' bytes and the frozen inputs stay where they are. Built once, since orders are
# read all the time, and putting a statement together takes longer than running it.
_QUOTES = (
    pick(*_LISTED)
    .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
    .join(QuotePaperRow, col(QuotePaperRow.quote_id) == col(QuoteRow.id), isouter=True)
    .order_by(col(QuoteRow.order_id), col(QuoteRow.id))
)
_BY_NUMBER = _QUOTES.where(col(QuoteRow.number) == bindparam("number"))
_BY_ORDER = _QUOTES.where(col(OrderRow.number) == bindparam("number"))
_SENDINGS = (
    pick(
        col(SendingRow.quote_id),
        col(SendingRow.at),
        col(SendingRow.how),
        col(SendingRow.sent_to),
        col(SendingRow.actor),
    )
    .where(col(SendingRow.quote_id).in_(bindparam("quote_ids", expanding=True)))
    .order_by(col(SendingRow.id))
)

_MAILS = (
    pick(OutboxRow.__table__)  # type: ignore[attr-defined]  # what SQLModel gives every table
    .where(col(OutboxRow.quote_id).in_(bindparam("quote_ids", expanding=True)))
    .order_by(col(OutboxRow.id))
)


def _quotes(session: Session, statement: Select[Any], number: str) -> list[Quote]:
    found = session.connection().execute(statement, {"number": number}).all()
    if not found:
        return []
    ids = [row.id for row in found]
    sendings, mails = _sendings(session, ids), _mails(session, ids)
    return [_quote(row, sendings.get(row.id, ()), mails.get(row.id, ())) for row in found]


def _quote(row: Any, sendings: Iterable[Sending], mails: Iterable[Mail]) -> Quote:
    return Quote(
        number=row.number,
        order_number=row.order_number,
        kind=QuoteKind(row.kind),
        revision=row.revision,
        state=QuoteState(row.state),
        issued_at=row.issued_at,
        issued_by=row.actor,
        valid_until=row.valid_until,
        expires_at=end_of_day(row.valid_until, row.zone),
        currency=row.currency,
        lines=tuple(QuoteLine(**line) for line in row.lines),
        net_minor=row.net_minor,
        tax_minor=row.tax_minor,
        total_minor=row.total_minor,
        deposit_minor=row.deposit_minor,
        superseded_at=row.superseded_at,
        sha256=row.sha256,
        rendered_at=row.rendered_at,
        sendings=tuple(sendings),
        variants=tuple(
            QuotedVariant(**{**one, "lines": tuple(QuoteLine(**line) for line in one["lines"])})
            for one in row.variants
        ),
        mails=tuple(mails),
    )


def mail_of(row: Any) -> Mail:
    """A letter of the outbox as it is read, from its row or from its columns."""
    return Mail(
        id=row.id,
        kind=MailKind(row.kind),
        to=row.to_address,
        state=MailState(row.state),
        tries=row.tries,
        queued_at=row.queued_at,
        next_try_at=row.next_try_at,
        settled_at=row.settled_at,
        answer=row.last_answer,
        actor=row.actor,
        about=None if row.about is None else About(row.about),
    )


def _mails(session: Session, quote_ids: list[int]) -> dict[int, tuple[Mail, ...]]:
    found: defaultdict[int, list[Mail]] = defaultdict(list)
    for row in session.connection().execute(_MAILS, {"quote_ids": quote_ids}):
        found[row.quote_id].append(mail_of(row))
    return {quote_id: tuple(mails) for quote_id, mails in found.items()}


def _sendings(session: Session, quote_ids: list[int]) -> dict[int, tuple[Sending, ...]]:
    rows = session.connection().execute(_SENDINGS, {"quote_ids": quote_ids})
    found: defaultdict[int, list[Sending]] = defaultdict(list)
    for row in rows:
        found[row.quote_id].append(Sending(row.at, SentHow(row.how), row.sent_to, row.actor))
    return {quote_id: tuple(sent) for quote_id, sent in found.items()}
