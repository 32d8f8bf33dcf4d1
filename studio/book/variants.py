"""Other ways to make the rings of an order, offered beside its own on one quote: added, changed, dropped."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.agreed_errors import TooManyVariants, VariantUnknown
from studio.book.audit import note
from studio.book.errors import OrderFixed
from studio.book.order_reads import order
from studio.book.order_rings import put_rings
from studio.book.order_tables import OrderRow
from studio.book.order_values import Order, RingDraft
from studio.book.order_writing import locked_order, touch
from studio.book.ring_reads import Kept, rings_in, rings_of, with_fingers
from studio.book.ring_sets import check_avoided_in, known_practices, rings_kept, with_finger_of
from studio.book.standing import draft_again
from studio.book.transaction import transaction
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.orders import BEFORE_AGREEMENT, State

FIRST = "a"
"""The key of the order's own rings on a quote with a choice."""
KEYS = ("b", "c")
"""The keys of the other ways: up to three on one quote."""


def add_variant(
    session: Session,
    *,
    number: str,
    version: int,
    rings: Sequence[RingDraft] | None = None,
    actor: Actor,
    now: datetime,
) -> Order:
    """Offer one more way to make the order's rings; without `rings` it begins as the order's own.

    Fingers are the order's. A quoted order is a draft again. Raises `OrderUnknown`, `VersionStale`,
    `OrderFixed` from agreed on, `TooManyVariants` above three ways, and `Refused` for another number of rings
    or a ring that cannot be made.
    """
    with transaction(session):
        row = _row(session, number, version)
        key = next((key for key in KEYS if key not in _keys(row)), None)
        if key is None:
            raise TooManyVariants(number, len(KEYS) + 1)
        drafts = [ring.draft for ring in rings_of(session, row.id)] if rings is None else rings
        kept = _kept(session, row, drafts, actor=actor, now=now)
        offered = [*(row.variants or ()), {"key": key, "rings": kept}]
        row.variants = sorted(offered, key=lambda one: one["key"])
        _changed(session, row, "add a variant", key, actor=actor, now=now)
    return order(session, number)


def put_variant(
    session: Session,
    *,
    number: str,
    key: str,
    version: int,
    rings: Sequence[RingDraft],
    actor: Actor,
    now: datetime,
) -> Order:
    """Let `rings` be the way called `key`. Saying again what stands changes nothing.

    Raises as `add_variant` does, and `VariantUnknown`.
    """
    with transaction(session):
        row = _row(session, number, version)
        before = _of(row, key)
        kept = _kept(session, row, rings, before=before, actor=actor, now=now)
        if kept != before:
            row.variants = [{"key": key, "rings": kept} if one["key"] == key else one for one in row.variants]
            _changed(session, row, "change a variant", key, actor=actor, now=now)
    return order(session, number)


def drop_variant(
    session: Session, *, number: str, key: str, version: int, actor: Actor, now: datetime
) -> Order:
    """No longer offer the way called `key`. Raises as `put_variant` does."""
    with transaction(session):
        row = _row(session, number, version)
        _of(row, key)
        row.variants = [one for one in row.variants if one["key"] != key] or None
        _changed(session, row, "drop a variant", key, actor=actor, now=now)
    return order(session, number)


def put_chosen(session: Session, order: OrderRow, key: str, *, actor: Actor, now: datetime) -> None:
    """Let the rings of the way called `key` be the order's, with the figures they were shown with.

    Inside the transaction of the yes. Its own rings are kept under 'a', should the yes be taken back.
    """
    if key == FIRST:
        return
    own = rings_of(session, order.id)
    kept = with_fingers(_of(order, key), own)
    check_avoided_in(session, order, kept)
    first = rings_kept(session, order, [ring.draft for ring in own], actor=actor, now=now)
    order.variants = [{"key": FIRST, "rings": first}, *order.variants]
    _put(session, order, kept, actor=actor, now=now)


def put_own_back(session: Session, order: OrderRow, *, actor: Actor, now: datetime) -> None:
    """Let the order have the rings it had before another way was chosen. Inside a transaction."""
    if FIRST not in _keys(order):
        return
    kept = with_fingers(_of(order, FIRST), rings_of(session, order.id))
    order.variants = [one for one in order.variants if one["key"] != FIRST]
    _put(session, order, kept, actor=actor, now=now)


def keep_chosen(order: OrderRow) -> None:
    """The rings stay as they are where a draft is made of what was agreed; so do the other ways."""
    order.amending = None
    if order.variants:
        order.variants = [one for one in order.variants if one["key"] != FIRST] or None


def _put(session: Session, order: OrderRow, kept: Kept, *, actor: Actor, now: datetime) -> None:
    drafts = [ring.draft for ring in rings_in(session, kept)]
    put_rings(session, order, drafts, shown_with=known_practices(kept), actor=actor, now=now)


def _row(session: Session, number: str, version: int) -> OrderRow:
    row = locked_order(session, number, version)
    if row.state not in BEFORE_AGREEMENT:
        raise OrderFixed(number, State(row.state), ("rings",))
    return row


def _kept(
    session: Session,
    row: OrderRow,
    drafts: Sequence[RingDraft],
    *,
    before: Kept = (),
    actor: Actor,
    now: datetime,
) -> list[dict[str, Any]]:
    own = rings_of(session, row.id)
    if len(drafts) != len(own):
        why = Why.TOO_SMALL if len(drafts) < len(own) else Why.TOO_LARGE
        raise Refused(Refusal("rings", why, str(len(drafts)), len(own), len(own), "rings"))
    fitted = [with_finger_of(draft, ring) for draft, ring in zip(drafts, own, strict=True)]
    kept = rings_kept(session, row, fitted, before=before, actor=actor, now=now)
    check_avoided_in(session, row, kept)
    return kept


def _keys(row: OrderRow) -> tuple[str, ...]:
    return tuple(one["key"] for one in row.variants or ())


def _of(row: OrderRow, key: str) -> list[dict[str, Any]]:
    for one in row.variants or ():
        if one["key"] == key:
            rings: list[dict[str, Any]] = one["rings"]
            return rings
    raise VariantUnknown(row.number, key)


def _changed(session: Session, row: OrderRow, verb: str, key: str, *, actor: Actor, now: datetime) -> None:
    """Mark the order as touched, a draft where it was quoted, and note it."""
    was: dict[str, object] = {"state": row.state} if row.state == State.QUOTED else {}
    became = {"variant": key, **draft_again(session, row, now)}
    touch(session, row, now)
    note(session, actor=actor, now=now, verb=verb, order_id=row.id, old=was, new=became)
