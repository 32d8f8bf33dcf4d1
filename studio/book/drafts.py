"""Forms of the counter that nobody has finished yet, kept as typed: the book cannot hold half a ring."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Index, Text, delete
from sqlmodel import Field, Session, col, select

from studio.book.actor import Actor
from studio.book.errors import DraftUnknown
from studio.book.order_tables import OrderRow
from studio.book.transaction import transaction
from studio.book.types import JsonText, Moment, Row

KEPT_FOR = timedelta(days=60)
"""A form that nobody touched for so long is thrown away."""
MOST_LISTED = 20


class DraftRow(Row, table=True):
    """A form by its key. `order_id` is the order whose ring it shows, or, with `done_at`, the one it became.

    A form that is done holds nothing of what was typed; the row stays for a while, so that a save on its way
    while the order was taken does not bring the form back.
    """

    __tablename__ = "counter_drafts"
    __table_args__ = (Index(None, "saved_at"),)

    id: int = Field(default=None, primary_key=True)
    key: str = Field(sa_type=Text, unique=True)
    person: str = Field(sa_type=Text)
    typed: dict[str, str] = Field(default_factory=dict, sa_type=JsonText, nullable=False)
    order_id: int | None = Field(default=None, foreign_key="orders.id", index=True)
    ring: int | None = None
    saved_at: datetime = Field(sa_type=Moment)
    done_at: datetime | None = Field(default=None, sa_type=Moment)


@dataclass(frozen=True, slots=True)
class Draft:
    """A form as it was typed. `number` and `ring` say whose ring it shows; `ring` None is one more.

    `is_done` says that it was saved in the order `number`, or thrown away where there is none.
    """

    key: str
    person: str
    typed: Mapping[str, str]
    number: str | None
    ring: int | None
    saved_at: datetime
    is_done: bool


def keep_draft(
    session: Session,
    *,
    key: str,
    typed: Mapping[str, str],
    number: str | None = None,
    ring: int | None = None,
    actor: Actor,
    now: datetime,
) -> Draft:
    """Keep the form as it stands under its key, in the place of what was kept before.

    A form that is done stays done. No entry is written into the history: nothing is decided here. Forms
    older than `KEPT_FOR` are thrown away. An order that is not there leaves the form without one.
    """
    with transaction(session):
        session.exec(delete(DraftRow).where(col(DraftRow.saved_at) < now - KEPT_FOR))
        row = _row(session, key) or DraftRow(key=key, person=actor.name, saved_at=now)
        if row.done_at is None:
            row.person, row.typed, row.saved_at = actor.name, dict(typed), now
            row.order_id, row.ring = _order_id(session, number), ring
            session.add(row)
            session.flush()
    return draft(session, key)


def draft(session: Session, key: str) -> Draft:
    """The form kept under `key`. Raises `DraftUnknown`."""
    row = _row(session, key)
    if row is None:
        raise DraftUnknown
    return _value(session, row)


def drafts(session: Session) -> tuple[Draft, ...]:
    """The forms nobody has finished, the latest first, at most `MOST_LISTED`."""
    rows = session.exec(
        select(DraftRow)
        .where(col(DraftRow.done_at).is_(None))
        .order_by(col(DraftRow.saved_at).desc(), col(DraftRow.id).desc())
        .limit(MOST_LISTED)
    )
    return tuple(_value(session, row) for row in rows)


def finish_draft(session: Session, *, key: str, number: str | None, now: datetime) -> None:
    """The form was saved in the order `number`, or is thrown away (None): forget what was typed into it.

    A key nobody kept anything under is as good as done.
    """
    with transaction(session):
        row = _row(session, key)
        if row is not None and row.done_at is None:
            row.typed, row.done_at, row.saved_at = {}, now, now
            row.order_id, row.ring = _order_id(session, number), None
            session.add(row)


def _row(session: Session, key: str) -> DraftRow | None:
    return session.exec(select(DraftRow).where(col(DraftRow.key) == key)).one_or_none()


def _order_id(session: Session, number: str | None) -> int | None:
    if number is None:
        return None
    return session.exec(select(OrderRow.id).where(col(OrderRow.number) == number)).one_or_none()


def _value(session: Session, row: DraftRow) -> Draft:
    number = None if row.order_id is None else session.get_one(OrderRow, row.order_id).number
    return Draft(
        row.key, row.person, dict(row.typed), number, row.ring, row.saved_at, is_done=row.done_at is not None
    )
