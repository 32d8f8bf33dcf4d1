"""The same request sent twice is done once: an answer is kept by its key, in the transaction of the work."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Index, Text, UniqueConstraint, bindparam, delete, text
from sqlmodel import Field, Session, col, select

from studio.book.actor import Actor
from studio.book.errors import KeyReused
from studio.book.transaction import transaction
from studio.book.types import Moment, Row

KEPT_FOR = timedelta(days=30)


_CLAIM = text(
    "INSERT INTO answers (actor, key, fingerprint, status, body, created_at) "
    "VALUES (:actor, :key, :fingerprint, 0, '', :now) ON CONFLICT (actor, key) DO NOTHING"
).bindparams(bindparam("now", type_=Moment))


class AnswerRow(Row, table=True):
    """An answer under a key. The row is written before the work, so that a second request waits for it."""

    __tablename__ = "answers"
    __table_args__ = (UniqueConstraint("actor", "key"), Index(None, "created_at"))

    id: int = Field(default=None, primary_key=True)
    actor: str = Field(sa_type=Text)
    key: str = Field(sa_type=Text)
    fingerprint: str = Field(sa_type=Text)
    status: int = 0
    body: str = Field(default="", sa_type=Text)
    location: str | None = Field(default=None, sa_type=Text)
    created_at: datetime = Field(sa_type=Moment)


@dataclass(frozen=True, slots=True)
class Answer:
    """What was answered: the status, the body as sent, and where it sent the reader."""

    status: int
    body: str
    location: str | None = None


def once(
    session: Session,
    *,
    key: str,
    actor: Actor,
    fingerprint: str,
    now: datetime,
    work: Callable[[], Answer],
) -> Answer:
    """The answer of `work`, done at most once for this actor's `key`.

    `fingerprint` stands for the request (method, path, body): the same key with another one raises
    `KeyReused`. Work that raises leaves nothing behind, and the key may be used again.
    """
    with transaction(session):
        session.exec(delete(AnswerRow).where(col(AnswerRow.created_at) < now - KEPT_FOR))
        facts = {"actor": actor.key, "key": key, "fingerprint": fingerprint, "now": now}
        is_first = session.connection().execute(_CLAIM, facts).rowcount == 1
        row = session.exec(
            select(AnswerRow).where(col(AnswerRow.actor) == actor.key, col(AnswerRow.key) == key)
        ).one()
        if row.fingerprint != fingerprint:
            raise KeyReused(key)
        if is_first:
            answer = work()
            row.status, row.body, row.location = answer.status, answer.body, answer.location
            session.add(row)
    return Answer(row.status, row.body, row.location)


def kept(session: Session, *, key: str, actor: Actor, fingerprint: str) -> Answer | None:
    """The answer already given under this actor's `key`, None while there is none.

    For work that prepares something outside the transaction: a repetition need not prepare it again. Raises
    `KeyReused` as `once` does.
    """
    row = session.exec(
        select(AnswerRow).where(col(AnswerRow.actor) == actor.key, col(AnswerRow.key) == key)
    ).one_or_none()
    if row is None:
        return None
    if row.fingerprint != fingerprint:
        raise KeyReused(key)
    return Answer(row.status, row.body, row.location)
