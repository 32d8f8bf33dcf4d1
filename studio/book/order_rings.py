"""Writing the rings of an order: each with its finger, its design and its reckoned figures."""

import json
from collections.abc import Mapping, Sequence
from datetime import datetime
from types import MappingProxyType
from typing import Any

from sqlalchemy import delete
from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.customer_tables import FingerRow
from studio.book.order_tables import OrderRow, RingRow
from studio.book.order_values import RingDraft
from studio.book.ring_practices import KnownPractices, RingPractices
from studio.book.ring_reads import rings_of
from studio.book.stored import (
    design_columns,
    finger_columns,
    particulars_column,
    particulars_of,
    reckoned_columns,
)
from studio.book.studio import time_zone
from studio.clock import day_of
from studio.craft.avoiding import check_avoided
from studio.craft.particulars import Particulars
from studio.craft.reckonings import reckon
from studio.craft.stones import stone_line

_OF_THE_BLANK = ("alloy", "stock", "profile", "thickness_um", "width_um", "mark_um")


def put_rings(
    session: Session,
    order: OrderRow,
    rings: Sequence[RingDraft],
    *,
    shown_with: KnownPractices = MappingProxyType({}),
    actor: Actor,
    now: datetime,
) -> None:
    """Let `rings` be the rings of `order`, in this order. Inside a transaction only.

    A ring keeps its place and its row. A finger that is the same as before keeps its day and who took it; a
    measurement that no ring speaks of any more was a slip of the pen, and goes. A ring that stays as it was,
    wherever it stands, is reckoned by the practice it had, and so is every ring of an order that is agreed; a
    new ring, and one that was changed, is reckoned by the practice of today, or by the one it was
    `shown_with`.
    Raises `Refused` for a ring that cannot be made.
    """
    found = session.exec(
        select(RingRow, FingerRow)
        .join(FingerRow, col(FingerRow.id) == col(RingRow.finger_id))
        .where(col(RingRow.order_id) == order.id)
    ).all()
    before = {ring.position: ring for ring, _ in found}
    practices = RingPractices(session, order, found, day_of(now, time_zone(session)), shown_with)
    left_over: set[int] = set()
    for position, asked in enumerate(rings, 1):
        draft = practices.as_measured(asked)
        kept = practices.at(position, draft.finger, draft.design)
        figures = reckoned_columns(reckon(draft.finger, draft.design, kept.practice))
        known = before.pop(position, None)
        finger_id = _finger_id(session, order, known, draft, actor=actor, now=now)
        if known is not None and known.finger_id != finger_id:
            left_over.add(known.finger_id)
        reasons = {code: text.strip() for code, text in draft.reasons.items() if text.strip()}
        columns = design_columns(draft.design) | figures | {"finger_id": finger_id, "reasons": reasons}
        columns |= {"practice_id": kept.id, "learned": kept.learned}
        columns["particulars"] = particulars_column(draft.particulars)
        if (
            known is not None
            and known.cut_id is not None
            and any(getattr(known, name) != columns[name] for name in _OF_THE_BLANK)
        ):
            columns["cut_id"] = None  # what was cut is not what it needs any more
        if known is None:
            session.add(RingRow(order_id=order.id, position=position, **columns))
        else:
            for name, value in columns.items():
                setattr(known, name, value)
            session.add(known)
    for ring in before.values():
        left_over.add(ring.finger_id)
        session.delete(ring)
    session.flush()
    if left_over:
        spoken_of = select(RingRow.finger_id)
        session.exec(
            delete(FingerRow).where(col(FingerRow.id).in_(left_over), col(FingerRow.id).not_in(spoken_of))
        )


def check_metals(session: Session, order: OrderRow) -> None:
    """Raises `Refused` for the first ring that holds a metal the order is to avoid."""
    if order.avoid:
        for ring in rings_of(session, order.id):
            check_avoided(ring.reckoning.alloy, order.avoid, f"rings.{ring.position - 1}.alloy")


def rings_shown(session: Session, order_id: int) -> list[dict[str, Any]]:
    """The rings as plain values, lengths in mm, for the history and to tell whether anything changed."""
    found = session.exec(
        select(RingRow, FingerRow)
        .join(FingerRow, col(FingerRow.id) == col(RingRow.finger_id))
        .where(col(RingRow.order_id) == order_id)
        .order_by(col(RingRow.position))
    ).all()
    return [_shown(ring, finger) for ring, finger in found]


def without_reasons(rings: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """The rings as `rings_shown` gives them, without why warnings were let through and what was read back."""
    free = {"reasons", "read_back"}
    return [{name: value for name, value in ring.items() if name not in free} for ring in rings]


def _finger_id(
    session: Session,
    order: OrderRow,
    known: RingRow | None,
    draft: RingDraft,
    *,
    actor: Actor,
    now: datetime,
) -> int:
    columns = finger_columns(draft.finger)
    if known is not None:
        row = session.get_one(FingerRow, known.finger_id)
        is_same = all(getattr(row, name) == value for name, value in columns.items())
        taken_by = draft.taken_by or row.taken_by
        taken_at = draft.taken_at or row.taken_at
        if is_same and (taken_by, taken_at) == (row.taken_by, row.taken_at):
            return row.id
    row = FingerRow(
        customer_id=order.customer_id,
        **columns,
        taken_by=draft.taken_by or actor.name,
        taken_at=draft.taken_at or now,
    )
    session.add(row)
    session.flush()
    return row.id


def _particulars_shown(particulars: Particulars) -> dict[str, Any]:
    words = particulars.inscription
    shown: dict[str, Any] = {"finish_inside": particulars.inside, "finish_outside": particulars.outside}
    if words is not None:
        shown["inscription"] = words.text or "none wanted"
    if words is not None and words.is_wanted:
        shown |= {
            "inscription_on": words.face,
            "lettering": words.lettering,
            "letter_mm": words.letter_mm,
            "read_back": words.is_read_back,
        }
    if particulars.stones is not None:
        shown["stones"] = "; ".join(map(stone_line, particulars.stones)) or "none wanted"
    if particulars.marks is not None:
        shown["marks"] = particulars.marks.line
    return shown


def _shown(ring: RingRow, finger: FingerRow) -> dict[str, Any]:
    """Only what was chosen, without the figures that follow from it; what is not set is left out."""
    facts = {
        "profile": ring.profile,
        "width_mm": ring.width_um / 1000,
        "thickness_mm": ring.thickness_um / 1000,
        "alloy": ring.alloy,
        "from": ring.stock,
        "pattern": ring.pattern,
        "pattern_when": ring.pattern_when,
        "stretch_percent": None if ring.stretch_ppm is None else ring.stretch_ppm / 10_000,
        "fit_mm": None if ring.fit_um is None else ring.fit_um / 1000,
        "reasons": ring.reasons or None,
        **_particulars_shown(particulars_of(ring.particulars)),
        "system": finger.system,
        "size": finger.label,
        "to_size": finger.to_label,
        "knuckle": finger.knuckle_label,
        "measured": finger.measured,
        "gauge_width_mm": None if finger.gauge_width_um is None else finger.gauge_width_um / 1000,
        "gauge": None if finger.gauge is None else json.loads(finger.gauge)["name"],
        "hand": finger.hand,
        "finger": finger.finger,
        "is_warm": finger.is_warm,
        "is_on_two_days": finger.is_on_two_days,
        "taken_by": finger.taken_by,
        "taken_at": finger.taken_at.isoformat(),
    }
    return {name: value for name, value in facts.items() if value is not None}
