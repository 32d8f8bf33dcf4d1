"""Rings kept beside those of an order: another way to make them, or what an agreed order is to become.

A set is kept on the order's own row as plain JSON values, each ring as its columns would have it, with the
practice it was reckoned by. So a set that is chosen becomes the order's rings with the figures it was shown
with.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.customer_tables import FingerRow
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_values import OrderRing, RingDraft
from studio.book.plain_values import as_plain
from studio.book.ring_practices import KnownPractices, RingPractices, ring_key
from studio.book.ring_reads import Kept, chosen, rings_in
from studio.book.stored import design_columns, finger_columns
from studio.book.studio import time_zone
from studio.clock import day_of
from studio.craft.avoiding import check_avoided
from studio.craft.reckonings import reckon


def rings_kept(
    session: Session,
    order: OrderRow,
    drafts: Sequence[RingDraft],
    *,
    before: Kept = (),
    actor: Actor,
    now: datetime,
) -> list[dict[str, Any]]:
    """The rings as a set of `order`; a ring that the order or the set `before` has keeps its practice.

    Inside a transaction or not: nothing is written. Raises `Refused` for a ring that cannot be made.
    """
    found = session.exec(
        select(RingRow, FingerRow)
        .join(FingerRow, col(FingerRow.id) == col(RingRow.finger_id))
        .where(col(RingRow.order_id) == order.id)
    ).all()
    day = day_of(now, time_zone(session))
    practices = RingPractices(session, order, found, day, known_practices(before))
    kept: list[dict[str, Any]] = []
    for position, asked in enumerate(drafts, 1):
        draft = practices.as_measured(asked)
        practice = practices.at(position, draft.finger, draft.design)
        reckon(draft.finger, draft.design, practice.practice)  # one that cannot be made is no part of a set
        reasons = {code: text.strip() for code, text in draft.reasons.items() if text.strip()}
        kept.append(
            {
                "finger": finger_columns(draft.finger),
                "design": design_columns(draft.design),
                "taken_by": draft.taken_by or actor.name,
                "taken_at": (draft.taken_at or now).isoformat(),
                "reasons": reasons,
                "particulars": as_plain(draft.particulars),
                "practice_id": practice.id,
                "learned": practice.learned,
            }
        )
    return kept


def check_avoided_in(session: Session, order: OrderRow, kept: Kept) -> None:
    """Raises `Refused` for the first ring of the set that holds a metal `order` is to avoid."""
    if order.avoid:
        for ring in rings_in(session, kept):
            check_avoided(ring.reckoning.alloy, order.avoid, f"rings.{ring.position - 1}.alloy")


def known_practices(kept: Kept) -> KnownPractices:
    """Which practice each ring of the set was reckoned by."""
    return {ring_key(*chosen(ring)): (ring["practice_id"], ring["learned"]) for ring in kept}


def with_one_ring(rings: Sequence[OrderRing], position: int, draft: RingDraft) -> tuple[RingDraft, ...]:
    """The rings as they would be asked for again, with another one at `position`."""
    return tuple(draft if ring.position == position else ring.draft for ring in rings)


def with_finger_of(draft: RingDraft, ring: OrderRing) -> RingDraft:
    """The ring as chosen, for the finger that `ring` is made for."""
    return replace(draft, finger=ring.finger, taken_by=ring.taken_by, taken_at=ring.taken_at)
