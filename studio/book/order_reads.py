"""Reading orders: the list by columns, one order whole."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import ColumnElement, SQLColumnExpression, func, tuple_
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio import clock
from studio.book.audit import history
from studio.book.calling_off import calling_off_of
from studio.book.customer_tables import CustomerRow
from studio.book.document_reads import documents_of, held_of
from studio.book.errors import OrderUnknown
from studio.book.finding import MOST_FOUND, FoundOrder, found_orders, is_found_order
from studio.book.invoice_reads import invoices_of
from studio.book.invoice_values import Invoice
from studio.book.making_reads import as_made_of, fit_answers_of, proofs_of
from studio.book.mendings import mendings_of
from studio.book.order_lines import order_lines
from studio.book.order_list_values import OrderLine
from studio.book.order_numbers import read_number
from studio.book.order_tables import OrderRow
from studio.book.order_values import Amending, Order, OrderCustomer, OrderRing, OrderTerms, Page, Variant
from studio.book.payment_reads import payments_of
from studio.book.payment_values import Payment
from studio.book.pictures import pictures_of
from studio.book.quote_reads import agreement_of, deposit_of, quotes_of
from studio.book.quote_values import QuoteKind, QuoteState
from studio.book.ring_reads import carried_over, rings_in, rings_of, with_fingers
from studio.book.studio import makes_invoices_on_account
from studio.craft.missing import OrderFacts, missing, ring_facts
from studio.craft.orders import AMENDABLE, BEFORE_AGREEMENT, State

MOST = 200


def order(session: Session, number: str) -> Order:
    """The order of this number, whole. Raises `OrderUnknown`."""
    row = session.exec(select(OrderRow).where(col(OrderRow.number) == number)).one_or_none()
    if row is None:
        raise OrderUnknown(number)
    customer = session.get_one(CustomerRow, row.customer_id)
    rings = rings_of(session, row.id)
    mends, mended_by = mendings_of(session, row.id)
    terms = OrderTerms(
        row.wanted_on,
        row.is_wanted_hard,
        row.promised_at,
        row.bench_on,
        row.note,
        row.avoid,
        row.collects,
        mends,
    )
    state = State(row.state)
    is_over = state is State.HANDED_OVER
    quotes = quotes_of(session, row.number)
    payments = payments_of(session, row.id)
    agreement = agreement_of(session, row.id, quotes, payments)
    documents = documents_of(session, row.id)
    invoices = invoices_of(session, row.id)
    return Order(
        number=row.number,
        state=state,
        version=row.version,
        customer=OrderCustomer(
            customer.id,
            customer.name,
            customer.phone,
            customer.email,
            customer.note,
            customer.version,
            customer.address,
        ),
        terms=terms,
        rings=rings,
        agreed_name=row.agreed_name,
        agreed_at=row.agreed_at,
        state_since=row.state_since,
        created_at=row.created_at,
        history=history(session, row.id),
        missing=missing(
            OrderFacts(
                state=state,
                has_phone=bool(customer.phone),
                has_wanted_day=terms.wanted_on is not None,
                has_promised_day=terms.promised_at is not None,
                has_bench_date=terms.bench_on is not None,
                mends=mends,
                deposit=deposit_of(session, state, quotes, agreement),
                has_open_amendment=any(
                    one.state is QuoteState.OPEN and one.kind is QuoteKind.AMENDMENT for one in quotes
                ),
                rings=tuple(
                    ring_facts(
                        ring.position, ring.finger, ring.reckoning, ring.reasons_given, ring.particulars
                    )
                    for ring in rings
                ),
            )
        ),
        quotes=quotes,
        agreement=agreement,
        variants=tuple(
            Variant(one["key"], rings_in(session, with_fingers(one["rings"], rings)))
            for one in (row.variants or () if state in BEFORE_AGREEMENT else ())
        ),
        calling_off=calling_off_of(session, row.id) if state is State.CALLED_OFF else None,
        amending=_amending(session, row, rings) if row.amending and state in AMENDABLE else None,
        pictures=pictures_of(session, row.id, len(rings)),
        mended_by=mended_by,
        documents=documents,
        goods_held=held_of(documents),
        invoices=invoices,
        to_invoice=_to_invoice(session, state, payments, invoices),
        payments=payments,
        proofs=proofs_of(session, row.id) if any(one.particulars.words_to_cut for one in rings) else (),
        made={one.position: one for one in as_made_of(session, row.id)} if is_over else {},
        fits=fit_answers_of(session, row.id) if is_over else {},
    )


def _to_invoice(
    session: Session, state: State, payments: Sequence[Payment], invoices: Sequence[Invoice]
) -> tuple[str, ...]:
    """The payments that may have an invoice of their own, where the studio makes any."""
    if not payments or state in {*BEFORE_AGREEMENT, State.HANDED_OVER, State.CALLED_OFF}:
        return ()
    done = {one.payment for one in invoices}
    found = [one for one in payments if one.counts and one.amount_minor > 0 and one.number not in done]
    return tuple(one.number for one in found) if found and makes_invoices_on_account(session) else ()


def _amending(session: Session, row: OrderRow, rings: Sequence[OrderRing]) -> Amending:
    kept = row.amending
    set_of_rings = carried_over(kept["rings"], kept.get("base", ()), rings)
    wanted_on, promised_at = kept["wanted_on"], kept["promised_at"]
    return Amending(
        rings=tuple(ring.draft for ring in rings_in(session, set_of_rings)),
        wanted_on=None if wanted_on is None else date.fromisoformat(wanted_on),
        wanted_hard=kept["wanted_hard"],
        promised_at=None if promised_at is None else datetime.fromisoformat(promised_at),
        words=kept["words"],
        charge_text=kept["charge_text"],
        charge_minor=kept["charge_minor"],
    )


def orders_page(
    session: Session,
    *,
    state: State | None = None,
    query: str | None = None,
    by_phone: bool = True,
    after: str | None = None,
    limit: int = 50,
    now: datetime | None = None,
) -> Page[OrderLine]:
    """One page of orders, the newest number first, of at most `limit` (1 to 200) lines.

    `query` finds by name ('muller' finds Müller), by number ('2026-118' or '118'), or by the last four or
    more digits of a telephone number however spaced, this only with `by_phone`. `after` is the `next` of the
    page before. `now` is the moment by which it is said what needs a hand; left out, this one. Raises
    `OrderUnknown` for an `after` that is no number.
    """
    typed = (query or "").strip()
    found = found_orders(session, typed, by_phone=by_phone) if typed else None
    asked = _Asked(typed, found, state, after, limit, by_phone=by_phone)
    return _page(session, asked, now or clock.now())


def orders_page_and_counts(
    session: Session,
    *,
    state: State | None = None,
    query: str | None = None,
    by_phone: bool = True,
    after: str | None = None,
    limit: int = 50,
    now: datetime | None = None,
) -> tuple[Page[OrderLine], dict[State, int]]:
    """One page of orders as in `orders_page`, and the counts of `state_counts`: one search for both."""
    typed = (query or "").strip()
    found = found_orders(session, typed, by_phone=by_phone) if typed else None
    asked = _Asked(typed, found, state, after, limit, by_phone=by_phone)
    counts = _counts_of(found) if typed else state_counts(session)
    return _page(session, asked, now or clock.now()), counts


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is asked of the list. `found` is what `typed` finds; None where that is many, or all."""

    typed: str
    found: list[FoundOrder] | None
    state: State | None
    after: str | None
    limit: int
    by_phone: bool


def _page(session: Session, asked: _Asked, now: datetime) -> Page[OrderLine]:
    start = None if asked.after is None else read_number(asked.after)
    if asked.after is not None and start is None:
        raise OrderUnknown(asked.after)
    size = max(1, min(asked.limit, MOST))
    state = asked.state
    wanted: list[ColumnElement[bool]] = []
    if asked.found is not None:
        places = [
            place.id
            for place in asked.found
            if state in {None, place.state} and (start is None or place[:2] < (start.year, start.serial))
        ]
        wanted.append(col(OrderRow.id).in_(places[: size + 1]))
    else:
        if asked.typed:
            wanted.append(is_found_order(asked.typed, by_phone=asked.by_phone))
        if state is not None:
            wanted.append(col(OrderRow.state) == state)
        if start is not None:
            wanted.append(tuple_(col(OrderRow.year), col(OrderRow.serial)) < tuple_(start.year, start.serial))
    lines = order_lines(session, wanted, size + 1, now)
    return Page(lines[:size], lines[size - 1].number if len(lines) > size else None)


def orders_of_customer(session: Session, customer_id: int, now: datetime | None = None) -> list[OrderLine]:
    """The orders of one customer, the newest first, at most 200."""
    return order_lines(session, [col(OrderRow.customer_id) == customer_id], MOST, now or clock.now())


def state_counts(session: Session, query: str | None = None, *, by_phone: bool = True) -> dict[State, int]:
    """How many orders are in each state, of those that `query` finds as in `orders_page`; 0 without any.

    Nobody counts further than `MOST_FOUND`, and a count above it means just that it is more. What a search
    finds of more customers than that is not counted at all: the answer is empty.
    """
    typed = (query or "").strip()
    if not typed:
        (counts,) = session.connection().execute(_COUNTS)
        return dict(zip(State, counts, strict=True))
    return _counts_of(found_orders(session, typed, by_phone=by_phone))


def _counts_of(found: list[FoundOrder] | None) -> dict[State, int]:
    if found is None:
        return {}
    counted = Counter(place.state for place in found)
    return {state: counted[state] for state in State}


def _counted(state: State) -> SQLColumnExpression[int]:
    some = pick(col(OrderRow.id)).where(col(OrderRow.state) == state).limit(MOST_FOUND + 1)
    return pick(func.count()).select_from(some.subquery()).scalar_subquery()


_COUNTS = pick(*(_counted(state) for state in State))
