"""One-time links: the first way in, and the way back in for somebody who forgot."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import Text, update
from sqlmodel import Field, Session, col, select

from studio.book.actor import Actor
from studio.book.audit import note
from studio.book.errors import LinkSpent
from studio.book.keys import hash_of, new_key
from studio.book.passphrases import set_passphrase
from studio.book.people import User, UserRow, rename_user, user_named
from studio.book.sign_in import SignedIn, open_sign_in
from studio.book.studio import change_studio, studio
from studio.book.transaction import transaction
from studio.book.types import Moment, Row
from studio.craft.roles import Role

LASTS = timedelta(hours=24)


class LinkRow(Row, table=True):
    """A link that opens once. Only the hash of its key is kept."""

    __tablename__ = "one_time_links"

    id: int = Field(default=None, primary_key=True)
    user_id: int = Field(foreign_key="users.id", index=True)
    key_hash: str = Field(sa_type=Text, unique=True)
    created_at: datetime = Field(sa_type=Moment)
    expires_at: datetime = Field(sa_type=Moment)
    used_at: datetime | None = Field(default=None, sa_type=Moment)


@dataclass(frozen=True, slots=True)
class OpenLink:
    """Who a link is for. `is_first` is the first start: the owner's and the studio's name are asked too."""

    user: User
    is_first: bool


def make_link(
    session: Session, *, user_name: str, actor: Actor, now: datetime, lasts: timedelta = LASTS
) -> str:
    """The key of a fresh one-time link for a person; older unused ones end. Raises `UserUnknown`."""
    key = new_key()
    with transaction(session):
        user = user_named(session, user_name)
        end_links(session, user_id=user.id, now=now)
        session.add(LinkRow(user_id=user.id, key_hash=hash_of(key), created_at=now, expires_at=now + lasts))
        note(session, actor=actor, now=now, verb="make a one-time link", new={"user": user.name})
    return key


def look_at_link(session: Session, *, key: str, now: datetime) -> OpenLink:
    """Who the link is for, without using it. Raises `LinkSpent`."""
    row = _link(session, key, now)
    user = session.get_one(UserRow, row.user_id)
    is_first = user.role == Role.OWNER and studio(session).name == ""
    return OpenLink(user_named(session, user.name), is_first)


def enter_by_link(
    session: Session,
    *,
    key: str,
    now: datetime,
    passphrase: str | None = None,
    own_name: str | None = None,
    studio_name: str | None = None,
) -> SignedIn:
    """Use the link: set what is given, and sign its person in.

    `passphrase` None signs in without setting one, which only the demo's link does. Raises `LinkSpent`,
    `PassphraseRefused` and `NameTaken`; then the link is not used up.
    """
    with transaction(session):
        row = _link(session, key, now)
        row.used_at = now
        session.add(row)
        user = user_named(session, session.get_one(UserRow, row.user_id).name)
        if own_name:
            user = rename_user(session, user_id=user.id, name=own_name, actor=user.actor, now=now)
        if studio_name:
            facts = studio(session)
            change_studio(session, facts=facts.called(studio_name), actor=user.actor, now=now)
        if passphrase is not None:
            set_passphrase(session, user_id=user.id, passphrase=passphrase, actor=user.actor, now=now)
        signed_in = open_sign_in(session, user_id=user.id, now=now)
        note(session, actor=user.actor, now=now, verb="enter by a one-time link")
    return signed_in


def end_links(session: Session, *, user_id: int, now: datetime) -> None:
    """Let every unused link of a person run out now."""
    with transaction(session):
        session.exec(
            update(LinkRow)
            .where(
                col(LinkRow.user_id) == user_id, col(LinkRow.used_at).is_(None), col(LinkRow.expires_at) > now
            )
            .values(expires_at=now)
        )


def _link(session: Session, key: str, now: datetime) -> LinkRow:
    row = session.exec(select(LinkRow).where(col(LinkRow.key_hash) == hash_of(key))).one_or_none()
    if row is None or row.used_at is not None or row.expires_at <= now:
        raise LinkSpent
    return row
