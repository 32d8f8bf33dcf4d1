"""What every verb of an order does: take its row under the lock, put its state, mark it as touched."""

from collections.abc import Mapping
from datetime import datetime

from sqlmodel import Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import OrderUnknown, VersionStale
from studio.book.order_tables import OrderRow
from studio.craft.orders import State


def locked_order(session: Session, number: str, version: int | None) -> OrderRow:
    """The order's row, for writing. None for a verb that does not hang on what was read.

    Raises `OrderUnknown`, and `VersionStale` when somebody changed the order since `version`.
    """
    row = session.exec(select(OrderRow).where(col(OrderRow.number) == number).with_for_update()).one_or_none()
    if row is None:
        raise OrderUnknown(number)
    if version is not None and row.version != version:
        raise VersionStale(number, version, row.version)
    return row


def put_state(
    session: Session,
    row: OrderRow,
    state: State,
    *,
    verb: str,
    actor: Actor,
    now: datetime,
    reason: str | None = None,
    also: Mapping[str, object] | None = None,
) -> None:
    """Let the order be in `state` from now on, and note it in its history with `also`."""
    old = {"state": row.state}
    row.state, row.state_since = state, now
    touch(session, row, now)
    note(
        session,
        actor=actor,
        now=now,
        verb=verb,
        order_id=row.id,
        old=old,
        new={"state": state, **(also or {})},
        reason=reason,
    )


def touch(session: Session, row: OrderRow, now: datetime) -> None:
    """The order has changed: a new version."""
    row.version += 1
    row.changed_at = now
    session.add(row)


def one_line(text: str | None) -> str | None:
    """What was typed, its blanks tidied; None where nothing was said."""
    return " ".join((text or "").split()) or None
