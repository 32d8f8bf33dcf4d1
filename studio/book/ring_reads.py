"""Reading rings: those of an order, and those kept beside them as a set."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from itertools import groupby
from typing import Any

from sqlmodel import Session, col, select

from studio.book.customer_tables import FingerRow
from studio.book.order_tables import RingRow
from studio.book.order_values import OrderRing
from studio.book.plain_values import as_plain, from_plain
from studio.book.practice_tables import PracticeRow
from studio.book.practices import practice_of
from studio.book.stored import design_columns, design_of, finger_columns, finger_of, particulars_of
from studio.craft.designs import Design, Finger
from studio.craft.particulars import Particulars
from studio.craft.practice import Practice
from studio.craft.reckonings import reckon

Kept = Sequence[Mapping[str, Any]]
"""A set of rings as plain JSON values."""


def rings_of(session: Session, order_id: int) -> tuple[OrderRing, ...]:
    """The rings of one order in their places, each reckoned by the practice it was saved with."""
    return rings_by_order(session, [order_id]).get(order_id, ())


def rings_by_order(session: Session, order_ids: Sequence[int]) -> dict[int, tuple[OrderRing, ...]]:
    """The rings of several orders, as `rings_of` has them, by the order's id."""
    found = session.exec(
        select(RingRow, FingerRow, PracticeRow.figures)
        .join(FingerRow, col(FingerRow.id) == col(RingRow.finger_id))
        .outerjoin(PracticeRow, col(PracticeRow.id) == col(RingRow.practice_id))
        .where(col(RingRow.order_id).in_(order_ids))
        .order_by(col(RingRow.order_id), col(RingRow.position))
    ).all()
    return {
        order_id: tuple(
            OrderRing(
                ring.position,
                finger := finger_of(row),
                design := design_of(ring),
                row.taken_by,
                row.taken_at,
                ring.reasons,
                reckon(finger, design, practice_of(figures, ring.learned)),
                particulars_of(ring.particulars),
                is_cut=ring.cut_id is not None,
            )
            for ring, row, figures in rows
        )
        for order_id, rows in groupby(found, key=lambda one: one[0].order_id)
    }


def rings_in(session: Session, kept: Kept) -> tuple[OrderRing, ...]:
    """The rings of a set with all their figures."""
    ids = {ring["practice_id"] for ring in kept} - {None}
    wanted = select(PracticeRow.id, PracticeRow.figures).where(col(PracticeRow.id).in_(ids))
    figures = dict(session.exec(wanted).all()) if ids else {}
    return tuple(
        _ring(position, ring, practice_of(figures.get(ring["practice_id"]), ring["learned"]))
        for position, ring in enumerate(kept, 1)
    )


def with_fingers(kept: Kept, rings: Sequence[OrderRing]) -> list[dict[str, Any]]:
    """The set with the fingers of `rings`, place by place: a way to make them never moves a finger."""
    return [
        {
            **ring,
            "finger": finger_columns(own.finger),
            "taken_by": own.taken_by,
            "taken_at": own.taken_at.isoformat(),
        }
        for ring, own in zip(kept, rings, strict=True)
    ]


def as_chosen(rings: Sequence[OrderRing]) -> list[dict[str, Any]]:
    """What was chosen of each ring, as a set keeps it."""
    return [
        {
            "finger": finger_columns(ring.finger),
            "design": design_columns(ring.design),
            "taken_by": ring.taken_by,
            "taken_at": ring.taken_at.isoformat(),
            "reasons": dict(ring.reasons),
            "particulars": as_plain(ring.particulars),
        }
        for ring in rings
    ]


def carried_over(kept: Kept, base: Kept, rings: Sequence[OrderRing]) -> list[dict[str, Any]]:
    """The set with what became of the order's `rings` since it was made of `base`.

    What the set leaves as it was then is as it is now: a size that was settled meanwhile, an inscription read
    back, a reason given. What it changes it changes. A set with fewer rings than `base` stays as it is.
    """
    changed = [dict(ring) for ring in kept]
    if not len(base) <= len(changed) or len(base) != len(rings):
        return changed
    for ring, then, now in zip(changed, base, as_chosen(rings), strict=False):
        for part in ("finger", "design", "reasons", "particulars"):
            if ring[part] == then[part]:
                ring[part] = now[part]
                if part == "finger":
                    ring |= {"taken_by": now["taken_by"], "taken_at": now["taken_at"]}
    return changed


def _ring(position: int, ring: Mapping[str, Any], practice: Practice) -> OrderRing:
    finger, design = chosen(ring)
    return OrderRing(
        position,
        finger,
        design,
        ring["taken_by"],
        datetime.fromisoformat(ring["taken_at"]),
        ring["reasons"],
        reckon(finger, design, practice),
        from_plain(Particulars, ring["particulars"]),
    )


def chosen(ring: Mapping[str, Any]) -> tuple[Finger, Design]:
    """The finger and the design of a ring in a set."""
    return finger_of(FingerRow(**ring["finger"])), design_of(RingRow(**ring["design"]))
