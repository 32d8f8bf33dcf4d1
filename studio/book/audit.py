"""Who did what, when, and what it was before: one entry per verb, never changed, never removed."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Index, Text
from sqlmodel import Field, Session, col, select

from studio.book.actor import Actor
from studio.book.types import JsonText, Moment, Row


class AuditRow(Row, table=True):
    """One entry. `old` and `new` hold just the fields that changed."""

    __tablename__ = "audit_entries"
    __table_args__ = (Index(None, "order_id", "id"), Index(None, "customer_id", "id"))

    id: int = Field(default=None, primary_key=True)
    at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    verb: str = Field(sa_type=Text)
    order_id: int | None = Field(default=None, foreign_key="orders.id")
    customer_id: int | None = Field(default=None, foreign_key="customers.id")
    old: Any = Field(default=None, sa_type=JsonText, nullable=True)
    new: Any = Field(default=None, sa_type=JsonText, nullable=True)
    reason: str | None = Field(default=None, sa_type=Text)


@dataclass(frozen=True, slots=True)
class AuditLine:
    """One entry as read: who did what at which moment (UTC), what it was and what it became."""

    at: datetime
    actor: str
    verb: str
    old: Any
    new: Any
    reason: str | None


def note(
    session: Session,
    *,
    actor: Actor,
    now: datetime,
    verb: str,
    order_id: int | None = None,
    customer_id: int | None = None,
    old: Any = None,
    new: Any = None,
    reason: str | None = None,
) -> None:
    """Write one entry into the transaction that is open. `old` and `new` are plain JSON values."""
    session.add(
        AuditRow(
            at=now,
            user_id=actor.id,
            actor=actor.name,
            verb=verb,
            order_id=order_id,
            customer_id=customer_id,
            old=old,
            new=new,
            reason=reason,
        )
    )


def history(session: Session, order_id: int) -> tuple[AuditLine, ...]:
    """The entries of one order, the oldest first."""
    found = session.exec(
        select(AuditRow).where(col(AuditRow.order_id) == order_id).order_by(col(AuditRow.id))
    ).all()
    return tuple(AuditLine(row.at, row.actor, row.verb, row.old, row.new, row.reason) for row in found)


def latest(session: Session, *verbs: str) -> AuditLine | None:
    """The last entry of one of these verbs, None where there is none."""
    row = session.exec(
        select(AuditRow).where(col(AuditRow.verb).in_(verbs)).order_by(col(AuditRow.id).desc()).limit(1)
    ).first()
    return None if row is None else AuditLine(row.at, row.actor, row.verb, row.old, row.new, row.reason)
