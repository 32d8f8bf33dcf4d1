"""Bearer tokens for programs that speak to the API, each with a role of its own."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field, Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import UserUnknown
from studio.book.keys import hash_of, new_key
from studio.book.people import shown_name
from studio.book.transaction import transaction
from studio.book.types import Moment, Row, one_of
from studio.craft.roles import Role


class TokenRow(Row, table=True):
    """A token. Only its hash is kept, so nobody can read it back from the book."""

    __tablename__ = "api_tokens"
    __table_args__ = (CheckConstraint(one_of("role", Role), name="role"),)

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    role: str = Field(sa_type=Text)
    token_hash: str = Field(sa_type=Text, unique=True)
    created_at: datetime = Field(sa_type=Moment)
    ended_at: datetime | None = Field(default=None, sa_type=Moment)


@dataclass(frozen=True, slots=True)
class Token:
    """A token as the list of people shows it."""

    id: int
    name: str
    role: Role
    created_at: datetime


def make_token(session: Session, *, name: str, role: Role, actor: Actor, now: datetime) -> str:
    """A fresh bearer token, told this once and never again. Raises `NameRefused`."""
    key, shown = new_key(), shown_name(name)
    with transaction(session):
        session.add(TokenRow(name=shown, role=role, token_hash=hash_of(key), created_at=now))
        note(session, actor=actor, now=now, verb="make a token", new={"name": shown, "role": role})
    return key


def actor_by_token(session: Session, *, token: str) -> Actor | None:
    """Who a bearer token speaks for, or None."""
    row = session.exec(
        select(TokenRow).where(col(TokenRow.token_hash) == hash_of(token), col(TokenRow.ended_at).is_(None))
    ).one_or_none()
    return None if row is None else Actor(None, row.name, Role(row.role), token_id=row.id)


def tokens(session: Session) -> list[Token]:
    """The tokens that work, in the order they were made."""
    found = session.exec(select(TokenRow).where(col(TokenRow.ended_at).is_(None)).order_by(col(TokenRow.id)))
    return [Token(row.id, row.name, Role(row.role), row.created_at) for row in found.all()]


def end_token(session: Session, *, token_id: int, actor: Actor, now: datetime) -> None:
    """The token works no more. Raises `UserUnknown` where there is none."""
    with transaction(session):
        row = session.get(TokenRow, token_id)
        if row is None or row.ended_at is not None:
            raise UserUnknown(f"token {token_id}")
        row.ended_at = now
        session.add(row)
        note(session, actor=actor, now=now, verb="end a token", old={"name": row.name, "role": row.role})
