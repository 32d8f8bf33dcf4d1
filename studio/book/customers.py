"""Customers: who they are, how they are found, and what their fingers measured."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from sqlalchemy import Select, delete, func, insert, tuple_
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.customer_tables import CustomerRow, CustomerWordRow, FingerRow
from studio.book.errors import CustomerUnknown, VersionStale
from studio.book.finding import found_customers
from studio.book.folding import digits, folded, words_of
from studio.book.making_reads import MadeBefore, fits_of_fingers, made_for
from studio.book.order_list_values import OrderLine
from studio.book.order_reads import MOST, orders_of_customer
from studio.book.order_tables import OrderRow
from studio.book.order_values import CustomerDraft, Page
from studio.book.row_ids import row_by_id
from studio.book.stored import finger_of
from studio.book.transaction import transaction
from studio.craft.designs import Finger
from studio.craft.fit_feedback import FitAnswer

__all__ = [
    "CustomerCard",
    "CustomerDraft",
    "CustomerLine",
    "MeasuredFinger",
    "add_customer",
    "change_customer",
    "customer",
    "customers_page",
    "find_customers",
    "fingers_of",
]


@dataclass(frozen=True, slots=True)
class CustomerLine:
    """A customer as a list shows them, with the number of their orders and the latest one's."""

    id: int
    name: str
    phone: str | None
    email: str | None
    orders: int
    last_number: str | None


@dataclass(frozen=True, slots=True)
class MeasuredFinger:
    """One measurement: the finger as given, when (UTC) and by whom it was taken."""

    id: int
    finger: Finger
    taken_at: datetime
    taken_by: str | None


@dataclass(frozen=True, slots=True)
class CustomerCard:
    """A customer whole: contact, note, orders and fingers, the newest first.

    `made` are rings made for them before; `fits` what was said last of a ring for a measurement, by its id.
    """

    id: int
    name: str
    phone: str | None
    email: str | None
    note: str
    version: int
    created_at: datetime
    orders: tuple[OrderLine, ...]
    fingers: tuple[MeasuredFinger, ...]
    address: str = ""
    made: tuple[MadeBefore, ...] = ()
    fits: Mapping[int, FitAnswer] = field(default_factory=dict)


def customer(session: Session, customer_id: int) -> CustomerCard:
    """The customer of this id. Raises `CustomerUnknown`."""
    row = customer_row(session, customer_id)
    if row is None:
        raise CustomerUnknown(customer_id)
    fingers = fingers_of(session, customer_id)
    return CustomerCard(
        row.id,
        row.name,
        row.phone,
        row.email,
        row.note,
        row.version,
        row.created_at,
        tuple(orders_of_customer(session, customer_id)),
        fingers,
        row.address,
        made_for(session, customer_id),
        fits_of_fingers(session, [one.id for one in fingers]),
    )


def fingers_of(session: Session, customer_id: int) -> tuple[MeasuredFinger, ...]:
    """What this customer's fingers measured, the latest measurement first, at most 200."""
    found = session.exec(
        select(FingerRow)
        .where(col(FingerRow.customer_id) == customer_id)
        .order_by(col(FingerRow.taken_at).desc(), col(FingerRow.id).desc())
        .limit(MOST)
    ).all()
    return tuple(MeasuredFinger(row.id, finger_of(row), row.taken_at, row.taken_by) for row in found)


def find_customers(session: Session, query: str, limit: int = 8) -> list[CustomerLine]:
    """Customers in whose name words begin like each of `query`, or whose telephone number ends in its digits.

    'muller' finds Müller, '0715' and '07 15' find 01632 960 715. An empty query finds nobody. At most
    `limit` by name; where more are found than anybody looks through (`MOST_FOUND`), the oldest of them.
    """
    typed = query.strip()
    if not typed:
        return []
    found = found_customers(session, typed, limit)
    lines = session.connection().execute(
        _listed()
        .where(col(CustomerRow.id).in_(found))
        .order_by(col(CustomerRow.name_folded), col(CustomerRow.id))
    )
    return [CustomerLine(*row) for row in lines]


def customers_page(session: Session, *, after: str | None = None, limit: int = 50) -> Page[CustomerLine]:
    """One page of customers by name. `after` is the `next` of the page before.

    Raises `CustomerUnknown` for an `after` that names nobody.
    """
    listed = _listed()
    if after is not None:
        start = customer_row(session, int(after)) if after.isascii() and after.isdigit() else None
        if start is None:
            raise CustomerUnknown(0)
        listed = listed.where(
            tuple_(col(CustomerRow.name_folded), col(CustomerRow.id)) > tuple_(start.name_folded, start.id)
        )
    size = max(1, min(limit, MOST))
    found = session.connection().execute(
        listed.order_by(col(CustomerRow.name_folded), col(CustomerRow.id)).limit(size + 1)
    )
    lines = [CustomerLine(*row) for row in found]
    return Page(lines[:size], str(lines[size - 1].id) if len(lines) > size else None)


def add_customer(session: Session, *, draft: CustomerDraft, actor: Actor, now: datetime) -> int:
    """Write a new customer down and give their id."""
    with transaction(session):
        row = CustomerRow(**_contact(draft), created_at=now)
        session.add(row)
        session.flush()
        _put_words(session, row)
        note(session, actor=actor, now=now, verb="add a customer", customer_id=row.id, new=_shown(row))
    return row.id


def change_customer(
    session: Session,
    *,
    customer_id: int,
    version: int,
    draft: CustomerDraft,
    note_text: str | None = None,
    actor: Actor,
    now: datetime,
) -> CustomerCard:
    """Put new contact facts, and a note where one is given, in the place of the old.

    Raises `CustomerUnknown`, and `VersionStale` when somebody changed the customer since `version`.
    """
    with transaction(session):
        row = _locked(session, customer_id)
        if row.version != version:
            raise VersionStale(f"customer {customer_id}", version, row.version)
        put_contact(session, row, draft, actor=actor, now=now, note_text=note_text)
    return customer(session, customer_id)


def put_contact(
    session: Session,
    row: CustomerRow,
    draft: CustomerDraft,
    *,
    actor: Actor,
    now: datetime,
    note_text: str | None = None,
) -> None:
    """Write what differs in `draft` into a customer's row, with its audit entry. Inside a transaction."""
    old = _shown(row)
    for name, value in _contact(draft).items():
        setattr(row, name, value)
    if note_text is not None:
        row.note = note_text.strip()
    new = _shown(row)
    changed = [name for name in new if new[name] != old[name]]
    if not changed:
        return
    row.version += 1
    session.add(row)
    if "name" in changed:
        session.exec(delete(CustomerWordRow).where(col(CustomerWordRow.customer_id) == row.id))
        _put_words(session, row)
    note(
        session,
        actor=actor,
        now=now,
        verb="change a customer",
        customer_id=row.id,
        old={name: old[name] for name in changed},
        new={name: new[name] for name in changed},
    )


def _put_words(session: Session, row: CustomerRow) -> None:
    words = [{"word": word, "customer_id": row.id} for word in words_of(row.name_folded)]
    session.connection().execute(insert(CustomerWordRow), words)


def _listed() -> Select[*tuple[Any, ...]]:
    orders = (
        pick(func.count(col(OrderRow.id)))
        .where(col(OrderRow.customer_id) == col(CustomerRow.id))
        .scalar_subquery()
    )
    last = (
        pick(col(OrderRow.number))
        .where(col(OrderRow.customer_id) == col(CustomerRow.id))
        .order_by(col(OrderRow.year).desc(), col(OrderRow.serial).desc())
        .limit(1)
        .scalar_subquery()
    )
    return pick(
        col(CustomerRow.id),
        col(CustomerRow.name),
        col(CustomerRow.phone),
        col(CustomerRow.email),
        orders,
        last,
    )


def _locked(session: Session, customer_id: int) -> CustomerRow:
    row = customer_row(session, customer_id, is_to_change=True)
    if row is None:
        raise CustomerUnknown(customer_id)
    return row


def customer_row(session: Session, customer_id: int, *, is_to_change: bool = False) -> CustomerRow | None:
    """The row of this id, None where there is none."""
    return row_by_id(session, CustomerRow, customer_id, is_to_change=is_to_change)


def _contact(draft: CustomerDraft) -> dict[str, Any]:
    name = " ".join(draft.name.split())
    phone = " ".join((draft.phone or "").split()) or None
    return {
        "name": name,
        "name_folded": folded(name),
        "phone": phone,
        "phone_reversed": digits(phone or "")[::-1],
        "email": (draft.email or "").strip() or None,
        **({} if draft.address is None else {"address": draft.address.strip()}),
    }


def _shown(row: CustomerRow) -> dict[str, str | None]:
    return {
        "name": row.name,
        "phone": row.phone,
        "email": row.email,
        "note": row.note,
        "address": row.address,
    }
