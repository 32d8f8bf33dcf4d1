"""Reading rings: those of an order, and those kept beside them as a set."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlmodel import Session, col, select

from studio.book.customer_tables import FingerRow
from studio.book.order_tables import RingRow
from studio.book.order_values import OrderRing
from studio.book.plain_values import from_plain
from studio.book.practice_tables import PracticeRow
from studio.book.practices import practice_at, practice_of
from studio.book.stored import design_of, finger_columns, finger_of, particulars_of
from studio.craft.designs import Design, Finger
from studio.craft.particulars import Particulars
from studio.craft.reckonings import reckon

Kept = Sequence[Mapping[str, Any]]
"""A set of rings as plain JSON values."""


def rings_of(session: Session, order_id: int) -> tuple[OrderRing, ...]:
    """The rings of one order in their places, each reckoned by the practice it was saved with."""
    found = session.exec(
        select(RingRow, FingerRow, PracticeRow.figures)
        .join(FingerRow, col(FingerRow.id) == col(RingRow.finger_id))
        .outerjoin(PracticeRow, col(PracticeRow.id) == col(RingRow.practice_id))
        .where(col(RingRow.order_id) == order_id)
        .order_by(col(RingRow.position))
    ).all()
    return tuple(
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
        for ring, row, figures in found
    )


def rings_in(session: Session, kept: Kept) -> tuple[OrderRing, ...]:
    """The rings of a set with all their figures."""
    return tuple(_ring(session, position, ring) for position, ring in enumerate(kept, 1))


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


def _ring(session: Session, position: int, ring: Mapping[str, Any]) -> OrderRing:
    finger, design = chosen(ring)
    practice = practice_at(session, ring["practice_id"], ring["learned"])
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
