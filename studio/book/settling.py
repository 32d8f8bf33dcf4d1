"""Settling a size that was agreed as a range: the finger is measured again, the price stands."""

from dataclasses import replace
from datetime import datetime

from sqlmodel import Session

from studio.book.actor import Actor
from studio.book.agreed_errors import NothingToSettle
from studio.book.audit import note
from studio.book.order_reads import order
from studio.book.order_rings import put_rings, rings_shown
from studio.book.order_values import Order
from studio.book.order_writing import locked_order, touch
from studio.book.ring_reads import rings_of
from studio.book.transaction import transaction
from studio.craft.designs import Finger, Measured
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.orders import State
from studio.craft.sizes import BeyondZ, read_size

_SLACK_MM = 1e-6  # both ends belong to the range, however their labels were reckoned


def settle_size(
    session: Session, *, number: str, position: int, version: int, size: str, actor: Actor, now: datetime
) -> Order:
    """Let ring `position` of an agreed order have the size measured again, within the range agreed.

    `size` is as typed in the finger's own system. The price was reckoned for the larger end and stands; the
    ring's figures are reckoned anew. Raises `OrderUnknown`, `VersionStale`, `NothingToSettle` where the order
    is not agreed or the ring has no range, and `Refused` naming `size` for a label that is none, or outside
    the range.
    """
    with transaction(session):
        row = locked_order(session, number, version)
        rings = rings_of(session, row.id)
        ring = next((one for one in rings if one.position == position), None)
        if row.state != State.AGREED or ring is None or ring.finger.to_label is None:
            raise NothingToSettle(number, position)
        beyond = ring.reckoning.practice.reading.beyond_z
        settled = replace(
            ring.draft, finger=_settled(ring.finger, size, beyond), taken_by=actor.name, taken_at=now
        )
        old = rings_shown(session, row.id)
        put_rings(
            session, row, [settled if one is ring else one.draft for one in rings], actor=actor, now=now
        )
        touch(session, row, now)
        new = rings_shown(session, row.id)
        note(
            session,
            actor=actor,
            now=now,
            verb="settle a size",
            order_id=row.id,
            old={"rings": old},
            new={"rings": new},
        )
    return order(session, number)


def _settled(finger: Finger, typed: str, beyond: BeyondZ) -> Finger:
    """The finger with its size measured again; a size that was only told is measured now."""
    read = read_size(finger.system, typed, "size", beyond)
    low, high = finger.circumference_mm, finger.to_circumference_mm or finger.circumference_mm
    if not low - _SLACK_MM <= read.circumference_mm <= high + _SLACK_MM:
        range_words = f"{finger.label} to {finger.to_label}"
        raise Refused(Refusal("size", Why.OUTSIDE_RANGE, read.label, unit=range_words))
    return replace(
        finger,
        label=read.label,
        circumference_mm=read.circumference_mm,
        to_label=None,
        to_circumference_mm=None,
        measured=Measured.GAUGE if finger.measured is Measured.TOLD else finger.measured,
    )
