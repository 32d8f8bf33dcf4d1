"""Whom to remind: quotes about to end, deposits that are open, balances of what is ready."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import Select, SQLColumnExpression, and_, bindparam, or_, tuple_
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.customer_tables import CustomerRow
from studio.book.order_numbers import read_number
from studio.book.order_tables import OrderRow
from studio.book.outbox_tables import OutboxRow
from studio.book.outbox_values import About, Mail
from studio.book.owed import Owed, owed
from studio.book.quote_columns import has_open_deposit
from studio.book.quote_reads import mail_of
from studio.book.quote_tables import QuoteRow
from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.reminders import OWES_DEPOSIT
from studio.craft.orders import AMENDABLE, State

ENDS_WITHIN = timedelta(days=3)
ENDED_WITHIN = timedelta(days=14)
PAGE_LENGTH = 40


@dataclass(frozen=True, slots=True)
class ToRemind:
    """One thing to remind a customer of.

    Money in minor units of `currency`: what is due, of a quote with a choice from the least to the most.
    `until` is the last day of a quote, None for money. `since` is when the quote was made, the yes was said,
    or the ring was ready. `reminded` are the reminders of it so far, the first first.
    """

    about: About
    number: str
    quote: str
    customer_id: int
    customer_name: str
    email: str
    currency: str
    amounts_minor: tuple[int, ...]
    until: date | None
    since: datetime
    reminded: tuple[Mail, ...]


@dataclass(frozen=True, slots=True)
class RemindersPage:
    """Some of those to remind of one thing, and the number of the order after which the list goes on."""

    items: tuple[ToRemind, ...]
    next: str | None


_COLUMNS: tuple[SQLColumnExpression[Any], ...] = (
    col(OrderRow.id),
    col(OrderRow.number),
    col(OrderRow.customer_id),
    col(CustomerRow.name),
    col(CustomerRow.email),
    col(OrderRow.state_since),
    col(QuoteRow.number).label("quote"),
    col(QuoteRow.currency),
    col(QuoteRow.total_minor),
    col(QuoteRow.variants),
    col(QuoteRow.issued_at),
    col(QuoteRow.valid_until),
    col(OrderRow.agreed_at),
)


def _of(state: QuoteState) -> Select[Any]:
    """Orders with their quote in this state, the oldest first."""
    return (
        pick(*_COLUMNS)
        .select_from(OrderRow)
        .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
        .join(QuoteRow, and_(col(QuoteRow.order_id) == col(OrderRow.id), col(QuoteRow.state) == state))
        .where(
            tuple_(col(OrderRow.year), col(OrderRow.serial)) > tuple_(bindparam("year"), bindparam("serial"))
        )
        .order_by(col(OrderRow.year), col(OrderRow.serial))
        .limit(bindparam("most"))
    )


# Each walks the orders of a few states along their index, as what needs a hand does.
_QUOTES = _of(QuoteState.OPEN).where(
    col(OrderRow.state).in_(sorted([*AMENDABLE, State.QUOTED])),
    or_(
        and_(col(QuoteRow.kind) == QuoteKind.QUOTE, col(OrderRow.state) == State.QUOTED),
        and_(col(QuoteRow.kind) == QuoteKind.AMENDMENT, col(OrderRow.state) != State.QUOTED),
    ),
    col(QuoteRow.valid_until).between(bindparam("first"), bindparam("last")),
)
_DEPOSITS = _of(QuoteState.AGREED).where(col(OrderRow.state).in_(sorted(OWES_DEPOSIT)), has_open_deposit())
_BALANCES = _of(QuoteState.AGREED).where(col(OrderRow.state) == State.READY)
_ASKED = {About.QUOTE: _QUOTES, About.DEPOSIT: _DEPOSITS, About.BALANCE: _BALANCES}
_REMINDED = (
    pick(col(QuoteRow.order_id), OutboxRow.__table__)  # type: ignore[attr-defined]  # as every table has it
    .select_from(QuoteRow)
    .join(OutboxRow, col(OutboxRow.quote_id) == col(QuoteRow.id))
    .where(
        col(QuoteRow.order_id).in_(bindparam("order_ids", expanding=True)),
        col(OutboxRow.about) == bindparam("about"),
    )
    .order_by(col(OutboxRow.id))
)


def to_remind(
    session: Session, about: About, *, today: date, after: str | None = None, limit: int = PAGE_LENGTH
) -> RemindersPage:
    """Whom to remind of this, a page of at most `limit`, the most pressing of them first.

    Quotes and amendments that end within three days, or ended within the last fourteen without an answer;
    open deposits of agreed orders; balances of rings that are ready. Pages go on by number, from the oldest
    order to the newest, and three questions fill each. One whose balances are paid already may be short.
    """
    start = read_number(after or "")
    asked: dict[str, int | date] = {
        "year": start.year if start else 0,
        "serial": start.serial if start else 0,
        "most": limit + 1,
    }
    if about is About.QUOTE:
        asked |= {"first": today - ENDED_WITHIN, "last": today + ENDS_WITHIN}
    rows = session.connection().execute(_ASKED[about], asked).all()
    page = rows[:limit]
    dues = {} if about is About.QUOTE else owed(session, [row.number for row in page])
    mails = _reminded(session, [row.id for row in page], about)
    lines = [_line(row, about, dues.get(row.number), mails.get(row.id, ())) for row in page]
    items = sorted((line for line in lines if line.amounts_minor), key=_pressing)
    return RemindersPage(tuple(items), page[-1].number if len(rows) > limit else None)


def _line(row: Any, about: About, due: Owed | None, mails: tuple[Mail, ...]) -> ToRemind:
    amounts: tuple[int, ...] = ()
    if about is About.QUOTE:
        totals = sorted({one["total_minor"] for one in row.variants} or {row.total_minor})
        amounts = (totals[0], *totals[1:][-1:])
    elif due is not None:
        minor = due.deposit_minor if about is About.DEPOSIT else due.balance_minor
        amounts = (minor,) if minor > 0 else ()
    since = {About.QUOTE: row.issued_at, About.DEPOSIT: row.agreed_at, About.BALANCE: row.state_since}[about]
    return ToRemind(
        about=about,
        number=row.number,
        quote=row.quote,
        customer_id=row.customer_id,
        customer_name=row.name,
        email=row.email or "",
        currency=row.currency,
        amounts_minor=amounts,
        until=row.valid_until if about is About.QUOTE else None,
        since=since or row.state_since,
        reminded=mails,
    )


def _pressing(line: ToRemind) -> tuple[date, datetime]:
    return (line.until or date.max, line.since)


def _reminded(session: Session, order_ids: list[int], about: About) -> dict[int, tuple[Mail, ...]]:
    if not order_ids:
        return {}
    found: defaultdict[int, list[Mail]] = defaultdict(list)
    for row in session.connection().execute(_REMINDED, {"order_ids": order_ids, "about": about}):
        found[row.order_id].append(mail_of(row))
    return {order_id: tuple(mails) for order_id, mails in found.items()}
