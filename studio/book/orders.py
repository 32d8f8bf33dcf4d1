"""The verbs of an order: taking it, changing it, moving it on."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from types import MappingProxyType
from typing import Any

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.agreements import begin_without_deposit
from studio.book.as_made import put_as_made
from studio.book.audit import note
from studio.book.calling_off import put_calling_off, take_up_again
from studio.book.customer_tables import CustomerRow
from studio.book.customers import add_customer, customer_row, put_contact
from studio.book.errors import CustomerUnknown, MoveRefused, NoAgreement, NoRings, OrderFixed, WhyNot
from studio.book.ledger import Hand, ledger_moved
from studio.book.mendings import change_mends, put_mends
from studio.book.order_list_values import OrderLine
from studio.book.order_numbers import next_number
from studio.book.order_reads import order, orders_page, state_counts
from studio.book.order_rings import check_metals, put_rings, rings_shown, without_reasons
from studio.book.order_tables import OrderRow
from studio.book.order_values import (
    UNSET,
    CustomerDraft,
    Order,
    OrderChanges,
    OrderRing,
    OrderTerms,
    Page,
    RingDraft,
)
from studio.book.order_writing import locked_order, one_line, put_state, touch
from studio.book.outwork_reads import check_all_is_in
from studio.book.ring_reads import rings_in, rings_of, with_fingers
from studio.book.ring_sets import check_avoided_in
from studio.book.standing import draft_again, is_amended, supersede, take_yes_back
from studio.book.studio import time_zone
from studio.book.transaction import transaction
from studio.book.variants import keep_chosen, put_own_back
from studio.clock import day_of
from studio.craft.calling_off import MetalTo
from studio.craft.missing import BEFORE_THE_BENCH, DEPOSIT, Missing
from studio.craft.orders import BEFORE_AGREEMENT, State, move_between

__all__ = [
    "UNSET",
    "CustomerDraft",
    "Missing",
    "Order",
    "OrderChanges",
    "OrderLine",
    "OrderRing",
    "OrderTerms",
    "Page",
    "RingDraft",
    "change_order",
    "move_order",
    "order",
    "orders_page",
    "state_counts",
    "take_order",
]

_FREE = {"bench_on": "bench_on", "note": "note", "avoid": "avoid", "collects": "collects"}
_FIXED_BY_YES = {"wanted_on": "wanted_on", "wanted_hard": "is_wanted_hard", "promised_at": "promised_at"}
"""Fields of a change by the column that keeps them: free at any time, and fixed from the yes on."""


def take_order(
    session: Session,
    *,
    customer: CustomerDraft | int,
    terms: OrderTerms,
    rings: Sequence[RingDraft],
    actor: Actor,
    now: datetime,
) -> Order:
    """Write a new order down as a draft, with the next number of the studio's year.

    `customer` is a new one, or the id of a known one. Raises `CustomerUnknown`, `NoRings`, and `Refused` for
    a ring that cannot be made or holds a metal to avoid, and `CannotMend` for an earlier ring that cannot be
    mended; then no number is used up.
    """
    if not rings:
        raise NoRings
    with transaction(session):
        if isinstance(customer, CustomerDraft):
            customer_id = add_customer(session, draft=customer, actor=actor, now=now)
        else:
            customer_id = customer
            if customer_row(session, customer_id) is None:
                raise CustomerUnknown(customer_id)
        number = next_number(session, day_of(now, time_zone(session)).year)
        row = OrderRow(
            number=str(number),
            year=number.year,
            serial=number.serial,
            state=State.DRAFT,
            state_since=now,
            customer_id=customer_id,
            wanted_on=terms.wanted_on,
            is_wanted_hard=terms.wanted_hard,
            promised_at=terms.promised_at,
            bench_on=terms.bench_on,
            note=terms.note.strip(),
            avoid=terms.avoid,
            collects=terms.collects.strip(),
            created_at=now,
            changed_at=now,
        )
        session.add(row)
        session.flush()
        put_rings(session, row, rings, actor=actor, now=now)
        check_metals(session, row)
        put_mends(session, row.id, terms.mends)
        new = {**_shown(row, _FREE | _FIXED_BY_YES), "rings": rings_shown(session, row.id)}
        new |= {} if terms.mends is None else {"mends": terms.mends.line}
        note(session, actor=actor, now=now, verb="take an order", order_id=row.id, new=new)
    return order(session, str(number))


def change_order(
    session: Session, *, number: str, version: int, changes: OrderChanges, actor: Actor, now: datetime
) -> Order:
    """Change what `changes` speaks of. A quoted order whose rings or days change is a draft again.

    Its quote is then superseded.
    From agreed on, rings, wanted and promised days stand: changing them raises `OrderFixed`; the note, the
    bench date, what it mends and the customer's contact stay free, and until the bench the reasons for
    warnings: no paper of the customer's shows them, so a quote stands when they change. Saying again what
    already stands changes nothing and keeps the version. Raises `OrderUnknown`, `VersionStale`, `NoRings`,
    `CannotMend`, and `Refused` for a ring that cannot be made or holds a metal to avoid.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        state = State(row.state)
        old = _shown(row, _FREE | _FIXED_BY_YES)
        asked = {
            column: value.strip() if isinstance(value, str) else value
            for name, column in (_FREE | _FIXED_BY_YES).items()
            if (value := getattr(changes, name)) is not UNSET and value != getattr(row, column)
        }
        fixed = [name for name, column in _FIXED_BY_YES.items() if column in asked]
        old_rings = new_rings = rings_shown(session, row.id)
        if changes.rings is not UNSET:
            new_rings = _other_rings(session, row, changes.rings, actor=actor, now=now)
        has_new_reasons = new_rings != old_rings
        if without_reasons(new_rings) != without_reasons(old_rings) or (
            has_new_reasons and state not in BEFORE_THE_BENCH
        ):
            fixed.append("rings")
        if fixed and state not in BEFORE_AGREEMENT:
            raise OrderFixed(number, state, tuple(fixed))
        if changes.customer is not UNSET:
            known = session.get_one(CustomerRow, row.customer_id, with_for_update=True)
            put_contact(session, known, changes.customer, actor=actor, now=now)
        mends = {} if changes.mends is UNSET else change_mends(session, row.id, changes.mends)
        if asked or mends or new_rings != old_rings:
            for column, value in asked.items():
                setattr(row, column, value)
            check_metals(session, row)
            new = _shown(row, _FREE | _FIXED_BY_YES) | {name: after for name, (_, after) in mends.items()}
            old |= {name: before for name, (before, _) in mends.items()}
            was = {name: value for name, value in old.items() if new[name] != value}
            became: dict[str, object] = {name: new[name] for name in was}
            if new_rings != old_rings:
                was, became = was | {"rings": old_rings}, became | {"rings": new_rings}
            if fixed and state is State.QUOTED:
                was, became = was | {"state": state}, became | draft_again(session, row, now)
            became |= _fitting_variants(session, row, len(new_rings))
            touch(session, row, now)
            note(session, actor=actor, now=now, verb="change an order", order_id=row.id, old=was, new=became)
    return order(session, number)


def move_order(
    session: Session,
    *,
    number: str,
    to: State,
    version: int,
    reason: str | None = None,
    may_waive: bool = True,
    metal: Mapping[int, MetalTo] = MappingProxyType({}),
    actor: Actor,
    now: datetime,
) -> Order:
    """Move an order on, or back, as the table of moves allows.

    An order that becomes a draft again leaves its quote superseded; a yes taken back leaves it waiting.
    One that is handed over keeps what the bench measured of its rings as what they were made as.
    One that is called off after the yes is settled by the studio's table, and its blanks go where `metal`
    says by the ring's place, else where its stage does.
    No move makes it quoted or agreed: `issue_quote` and `agree` do. Where the bench waits for the deposit
    alone, a `reason` lets the work begin without and is kept with the yes, if `may_waive`.

    Raises `OrderUnknown`, `VersionStale`, and `MoveRefused`: no such move, a reason asked for and not given,
    or the bench still waits for something; `ThingOut` where it would be ready or handed over while some of it
    is out of the house; `NoAgreement` where a yes older than the quotes would be taken back.
    """
    why = one_line(reason)
    with transaction(session):
        row = locked_order(session, number, version)
        start = State(row.state)
        move = move_between(start, to)
        if move is None:
            raise MoveRefused(number, start, to, WhyNot.NO_SUCH_MOVE)
        if move.needs_reason and why is None:
            raise MoveRefused(number, start, to, WhyNot.NEEDS_REASON)
        check_all_is_in(session, row.id, move)
        lacking = _lacking(session, number, start, to)
        is_waived = lacking == (DEPOSIT,) and why is not None and may_waive
        if lacking and not is_waived:
            raise MoveRefused(number, start, to, WhyNot.MISSING, lacking)
        also: dict[str, object] = {}
        if is_waived and why is not None:
            also = begin_without_deposit(session, row, why=why, actor=actor, now=now)
        elif to in {State.HANDED_OVER, State.CALLED_OFF}:
            also = _ended(session, row, to, metal=metal, actor=actor, now=now)
        elif to is State.DRAFT:
            row.agreed_name = row.agreed_at = None
            take_up_again(session, row, now)
            also = _superseded(session, row.id, now)
        elif start is State.AGREED and to is State.QUOTED:
            _take_yes_back(session, row, now)
        if to is State.QUOTED:
            put_own_back(session, row, actor=actor, now=now)
        elif to is State.DRAFT:
            keep_chosen(row)
        ledger_moved(session, Hand(actor, now), row, start, to)
        put_state(session, row, to, verb=move.verb.lower(), actor=actor, now=now, reason=why, also=also)
    return order(session, number)


def _ended(
    session: Session, row: OrderRow, to: State, *, metal: Mapping[int, MetalTo], actor: Actor, now: datetime
) -> dict[str, object]:
    """What is kept of an order that is handed over or called off; what of it stands in the history."""
    if to is State.CALLED_OFF:
        return put_calling_off(session, row, metal=metal, actor=actor, now=now)
    made = put_as_made(session, row, actor=actor, now=now)
    return {"made": made} if made else {}


def _other_rings(
    session: Session, row: OrderRow, rings: Sequence[RingDraft], *, actor: Actor, now: datetime
) -> list[dict[str, Any]]:
    """Let `rings` be the order's, as they are shown then. Raises `NoRings`."""
    if not rings:
        raise NoRings
    put_rings(session, row, rings, actor=actor, now=now)
    return rings_shown(session, row.id)


def _fitting_variants(session: Session, row: OrderRow, count: int) -> dict[str, object]:
    """Drop the other ways to make it where the order has another number of rings now; what became of them.

    Raises `Refused` where one cannot be made for a finger of the order any more, or holds a metal to avoid.
    """
    if row.variants and len(row.variants[0]["rings"]) != count:
        row.variants = None
        return {"variants": "dropped"}
    for one in row.variants or ():
        kept = with_fingers(one["rings"], rings_of(session, row.id))
        rings_in(session, kept)
        check_avoided_in(session, row, kept)
    return {}


def _take_yes_back(session: Session, row: OrderRow, now: datetime) -> None:
    """The quote waits for its answer again; what was amended is amended again or called off instead."""
    if is_amended(session, row.id):
        raise MoveRefused(row.number, State.AGREED, State.QUOTED, WhyNot.AMENDED)
    if not take_yes_back(session, row, now):
        raise NoAgreement(row.number)


def _lacking(session: Session, number: str, start: State, to: State) -> tuple[str, ...]:
    """What the bench waits for; no other move waits for anything."""
    is_to_the_bench = to is State.AT_THE_BENCH and start is State.AGREED
    return order(session, number).missing.bench if is_to_the_bench else ()


def _superseded(session: Session, order_id: int, now: datetime) -> dict[str, object]:
    """Let the order's quote no longer stand; its number for the history, nothing where none stood."""
    number = supersede(session, order_id, now)
    return {} if number is None else {"superseded": number}


def _shown(row: OrderRow, columns: dict[str, str]) -> dict[str, object]:
    """The fields of an order as plain JSON values, for the history."""
    values = {name: getattr(row, column) for name, column in columns.items()}
    return {
        name: value.isoformat() if hasattr(value, "isoformat") else value for name, value in values.items()
    }
