"""What needs a hand today."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import Date, and_, bindparam, exists, func, or_, text
from sqlalchemy import select as pick
from sqlalchemy.orm import aliased
from sqlmodel import Session, col

from studio.book.answer_link_tables import AnswerLinkRow, Reply
from studio.book.customer_tables import CustomerRow
from studio.book.hand import NOT_READY, OrderDays, fit_window, hand_of
from studio.book.making_tables import FitAnswerRow
from studio.book.order_list_values import Hand, HandWhy, HandWord
from studio.book.order_tables import OrderRow
from studio.book.outbox_tables import OutboxRow
from studio.book.outbox_values import About, MailKind, RefusedMail
from studio.book.outwork_tables import OutworkRow
from studio.book.quote_columns import has_open_deposit, open_until, said_no_at
from studio.book.quote_tables import QuoteRow
from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.studio import zone_and_fit_weeks
from studio.book.types import Moment
from studio.craft.orders import State

_LATER = aliased(OutboxRow)
_IS_REFUSED = text("outbox.state = 'refused'")  # written out, as the index of these has it
# Asked once for all lines, since few days have any.
_HAS_REFUSED = exists().where(_IS_REFUSED, col(OutboxRow.kind) != MailKind.TEST)
_COUNT_OVERDUE = (
    pick(func.count())
    .select_from(OutworkRow)
    .where(col(OutworkRow.back_at).is_(None), col(OutworkRow.due_on) < bindparam("today", type_=Date))
    .scalar_subquery()
)
# Every page counts what needs a hand: the question is put together once.
_OPEN = (
    pick(
        col(OrderRow.number),
        col(OrderRow.customer_id),
        col(CustomerRow.name),
        col(OrderRow.state),
        col(OrderRow.state_since),
        col(OrderRow.changed_at),
        col(OrderRow.promised_at),
        col(OrderRow.bench_on),
        open_until(),
        has_open_deposit(),
        said_no_at(),
        _HAS_REFUSED,
        _COUNT_OVERDUE,
    )
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
    .where(
        or_(
            col(OrderRow.state).in_(sorted([*NOT_READY, State.READY])),
            and_(
                col(OrderRow.state) == State.HANDED_OVER,
                col(OrderRow.state_since) >= bindparam("fit_from", type_=Moment),
                col(OrderRow.state_since) < bindparam("fit_until", type_=Moment),
                ~exists().where(col(FitAnswerRow.order_id) == col(OrderRow.id)),
            ),
        )
    )
    .order_by(col(OrderRow.year), col(OrderRow.serial))
)
# Of a quote that still stands, and only where no later letter of the kind went; a reminder while it is due.
_REFUSED = (
    pick(
        col(OrderRow.number),
        col(OrderRow.customer_id),
        col(CustomerRow.name),
        col(OrderRow.state),
        col(OrderRow.promised_at),
        col(OrderRow.bench_on),
        col(QuoteRow.number),
        col(OutboxRow.to_address),
        col(OutboxRow.last_answer),
        col(OutboxRow.settled_at),
        col(OutboxRow.about),
    )
    .select_from(OutboxRow)
    .join(QuoteRow, col(QuoteRow.id) == col(OutboxRow.quote_id))
    .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
    .where(
        _IS_REFUSED,
        col(OutboxRow.kind) != MailKind.TEST,
        or_(
            col(OutboxRow.about).is_(None),
            and_(col(OutboxRow.about) == About.QUOTE, col(QuoteRow.state) == QuoteState.OPEN),
            and_(col(OutboxRow.about) == About.DEPOSIT, has_open_deposit()),
            and_(col(OutboxRow.about) == About.BALANCE, col(OrderRow.state) == State.READY),
        ),
        col(QuoteRow.state) != QuoteState.SUPERSEDED,
        col(OrderRow.state).in_(sorted([*NOT_READY, State.READY])),
        ~exists().where(
            col(_LATER.quote_id) == col(OutboxRow.quote_id),
            col(_LATER.kind) == col(OutboxRow.kind),
            col(_LATER.about).is_not_distinct_from(col(OutboxRow.about)),
            col(_LATER.id) > col(OutboxRow.id),
        ),
    )
    .order_by(col(OutboxRow.id))
)
# To a quote that still waits, the last one by whatever link.
_NOES = (
    pick(
        col(OrderRow.number),
        col(OrderRow.customer_id),
        col(CustomerRow.name),
        col(OrderRow.state),
        col(OrderRow.promised_at),
        col(OrderRow.bench_on),
        col(QuoteRow.number),
        col(QuoteRow.kind),
        col(AnswerLinkRow.words),
        col(AnswerLinkRow.answered_at),
    )
    .select_from(AnswerLinkRow)
    .join(QuoteRow, col(QuoteRow.id) == col(AnswerLinkRow.quote_id))
    .join(OrderRow, col(OrderRow.id) == col(QuoteRow.order_id))
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
    .where(
        col(QuoteRow.state) == QuoteState.OPEN,
        col(AnswerLinkRow.reply) == Reply.NO,
        col(OrderRow.state).in_(sorted([*NOT_READY, State.READY])),
    )
    .order_by(col(AnswerLinkRow.answered_at))
)
# Whatever became of the order since: what is out is to come back.
_OVERDUE = (
    pick(
        col(OrderRow.number),
        col(OrderRow.customer_id),
        col(CustomerRow.name),
        col(OrderRow.state),
        col(OrderRow.promised_at),
        col(OrderRow.bench_on),
        col(OutworkRow.number),
        col(OutworkRow.worker),
        col(OutworkRow.due_on),
        col(OutworkRow.out_at),
    )
    .select_from(OutworkRow)
    .join(OrderRow, col(OrderRow.id) == col(OutworkRow.order_id))
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
    .where(col(OutworkRow.back_at).is_(None), col(OutworkRow.due_on) < bindparam("today", type_=Date))
    .order_by(col(OutworkRow.due_on), col(OutworkRow.id))
)
_ORDER = {why: place for place, why in enumerate(HandWhy)}


@dataclass(frozen=True, slots=True)
class SaidNo:
    """What a customer said by their link to a quote or amendment that waits."""

    quote: str
    kind: QuoteKind
    words: str


@dataclass(frozen=True, slots=True)
class OverdueSlip:
    """Outside work that is over its day: its slip, and who holds it."""

    slip: str
    worker: str


@dataclass(frozen=True, slots=True)
class HandLine:
    """One order that needs a hand: the facts of its sentence, by the most pressing rule.

    A letter that was refused has a line of its own, with its `mail`, and so have a `no` and outside work that
    is `overdue`.
    """

    number: str
    customer_id: int
    customer_name: str
    state: State
    hand: Hand
    promised_at: datetime | None
    bench_on: date | None
    mail: RefusedMail | None = None
    no: SaidNo | None = None
    overdue: OverdueSlip | None = None


def in_hand(session: Session, *, today: date, now: datetime) -> list[HandLine]:
    """What needs a hand, the most pressing rule first, then the longest waiting.

    One line for an order, one for each letter that was refused, one for a customer's no, and one for each
    slip of outside work that is over its day.
    """
    lines, noes, has_refused, overdue = _of_orders(session, today, now)
    lines += _refused_mails(session) if has_refused else ()
    lines += _noes(session) if noes else ()
    lines += _overdue(session, today) if overdue else ()
    return sorted(lines, key=lambda line: (_ORDER[line.hand.why], line.hand.on or date.max, line.hand.since))


def count(session: Session, *, today: date, now: datetime) -> int:
    """How many things need a hand: the number of lines of `in_hand`."""
    lines, noes, has_refused, overdue = _of_orders(session, today, now)
    refused = len(_refused_mails(session)) if has_refused else 0
    return len(lines) + noes + overdue + refused


def _of_orders(session: Session, today: date, now: datetime) -> tuple[list[HandLine], int, bool, int]:
    """The lines of orders, how many said no, whether any letter was refused, how many slips are overdue.

    Of an order at most one quote waits, so there is one no for each order that has one.
    """
    zone, weeks = zone_and_fit_weeks(session)
    fit_from, fit_until = fit_window(now, weeks)
    asked = {"today": today, "fit_from": fit_from, "fit_until": fit_until}
    found = session.connection().execute(_OPEN, asked)
    lines = []
    noes, has_refused, overdue = 0, False, 0
    for number, customer_id, name, word, *told, refused, late in found:
        state, has_refused, overdue = State(word), refused, late
        since, changed_at, promised_at, bench_on, quote_until, is_open, said_no = told
        days = OrderDays(
            state,
            since,
            changed_at,
            promised_at,
            bench_on,
            zone,
            quote_until,
            is_open,
            said_no,
            is_fit_due=state is State.HANDED_OVER,
        )
        noes += days.said_no_at is not None
        hand = hand_of(days, today=today, now=now)
        if hand is not None and hand.why is not HandWhy.SAID_NO:
            lines.append(HandLine(number, customer_id, name, state, hand, promised_at, bench_on))
    return lines, noes, has_refused, overdue


def _overdue(session: Session, today: date) -> list[HandLine]:
    return [
        HandLine(
            number,
            customer_id,
            name,
            State(word),
            Hand(HandWord.LATE, HandWhy.OUTWORK_OVERDUE, out_at, due_on),
            promised_at,
            bench_on,
            overdue=OverdueSlip(slip, worker),
        )
        for number, customer_id, name, word, promised_at, bench_on, slip, worker, due_on, out_at in (
            session.connection().execute(_OVERDUE, {"today": today})
        )
    ]


def _refused_mails(session: Session) -> list[HandLine]:
    lines = []
    found = session.connection().execute(_REFUSED)
    for number, customer_id, name, word, promised_at, bench_on, *told in found:
        quote, to, answer, settled_at, about = told
        hand = Hand(HandWord.REFUSED, HandWhy.MAIL_REFUSED, settled_at)
        mail = RefusedMail(quote, to, answer, None if about is None else About(about))
        lines.append(HandLine(number, customer_id, name, State(word), hand, promised_at, bench_on, mail))
    return lines


def _noes(session: Session) -> list[HandLine]:
    """One for each quote that was said no to, with what was said last."""
    found = session.connection().execute(_NOES)
    last = {
        quote: HandLine(
            number,
            customer_id,
            name,
            State(word),
            Hand(HandWord.WAITING, HandWhy.SAID_NO, answered_at),
            promised_at,
            bench_on,
            no=SaidNo(quote, QuoteKind(kind), words),
        )
        for number, customer_id, name, word, promised_at, bench_on, quote, kind, words, answered_at in found
        if answered_at is not None
    }
    return list(last.values())
