"""The people of the studio: who they are and what each is allowed to do."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field, Session, col, select

from studio.book.actor import PROGRAM, Actor
from studio.book.audit import note
from studio.book.errors import NameRefused, NameTaken, UserUnknown
from studio.book.folding import folded
from studio.book.transaction import transaction
from studio.book.types import Moment, Row, one_of
from studio.craft.roles import Role

__all__ = [
    "PROGRAM",
    "Actor",
    "User",
    "UserRow",
    "add_user",
    "rename_user",
    "shown_name",
    "user_named",
    "users",
]

LONGEST_NAME = 120


class UserRow(Row, table=True):
    """Somebody who signs in. Nobody is removed, since the history speaks of them; they are ended."""

    __tablename__ = "users"
    __table_args__ = (CheckConstraint(one_of("role", Role), name="role"),)

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    name_folded: str = Field(sa_type=Text, unique=True)
    role: str = Field(sa_type=Text)
    passphrase_hash: str | None = Field(default=None, sa_type=Text)
    created_at: datetime = Field(sa_type=Moment)
    ended_at: datetime | None = Field(default=None, sa_type=Moment)


@dataclass(frozen=True, slots=True)
class User:
    """One person as the list of people shows them."""

    id: int
    name: str
    role: Role
    has_passphrase: bool
    created_at: datetime
    ended_at: datetime | None

    @property
    def actor(self) -> Actor:
        """This person as the one who does something."""
        return Actor(self.id, self.name, self.role)


def users(session: Session) -> list[User]:
    """Everybody who may sign in, in the order they came."""
    found = session.exec(select(UserRow).where(col(UserRow.ended_at).is_(None)).order_by(col(UserRow.id)))
    return [_as_user(row) for row in found.all()]


def user_named(session: Session, name: str) -> User:
    """The person of this name, however it is capitalised or accented. Raises `UserUnknown`."""
    return _as_user(user_row(session, name))


def user_row(session: Session, name: str) -> UserRow:
    """The row of the person of this name who still works here. Raises `UserUnknown`."""
    row = session.exec(
        select(UserRow).where(col(UserRow.name_folded) == folded(name), col(UserRow.ended_at).is_(None))
    ).one_or_none()
    if row is None:
        raise UserUnknown(name)
    return row


def add_user(session: Session, *, name: str, role: Role, actor: Actor, now: datetime) -> User:
    """Let somebody in; they set their passphrase by a one-time link. Raises `NameTaken`, `NameRefused`."""
    shown = shown_name(name)
    with transaction(session):
        _refuse_taken(session, shown, but=None)
        row = UserRow(name=shown, name_folded=folded(shown), role=role, created_at=now)
        session.add(row)
        session.flush()
        note(session, actor=actor, now=now, verb="add a user", new={"name": shown, "role": role})
    return _as_user(row)


def rename_user(session: Session, *, user_id: int, name: str, actor: Actor, now: datetime) -> User:
    """Call a person by another name. Raises `UserUnknown`, `NameTaken` and `NameRefused`."""
    shown = shown_name(name)
    with transaction(session):
        row = row_of(session, user_id)
        _refuse_taken(session, shown, but=user_id)
        old, row.name, row.name_folded = row.name, shown, folded(shown)
        session.add(row)
        note(session, actor=actor, now=now, verb="rename a user", old={"name": old}, new={"name": shown})
    return _as_user(row)


def shown_name(typed: str) -> str:
    """A name as lists show it, its spaces single. Raises `NameRefused` for one that nobody could read."""
    shown = " ".join(typed.split())
    if not 1 <= len(shown) <= LONGEST_NAME or not shown.isprintable():
        raise NameRefused
    return shown


def row_of(session: Session, user_id: int) -> UserRow:
    """The row of a person who still works here. Raises `UserUnknown`."""
    row = session.get(UserRow, user_id)
    if row is None or row.ended_at is not None:
        raise UserUnknown(str(user_id))
    return row


def _refuse_taken(session: Session, name: str, but: int | None) -> None:
    found = session.exec(select(UserRow.id).where(col(UserRow.name_folded) == folded(name))).one_or_none()
    if found is not None and found != but:
        raise NameTaken(name)


def _as_user(row: UserRow) -> User:
    return User(
        row.id, row.name, Role(row.role), row.passphrase_hash is not None, row.created_at, row.ended_at
    )
