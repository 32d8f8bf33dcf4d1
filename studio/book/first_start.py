"""What a book needs before anybody can use it: a studio and an owner."""

from dataclasses import replace
from datetime import datetime

from sqlmodel import Session, select

from studio.book.links import make_link
from studio.book.people import PROGRAM, add_user, users
from studio.book.studio import Studio, StudioRow, change_studio, found_studio, studio
from studio.book.transaction import transaction
from studio.craft.roles import Role


def prepare(session: Session, *, time_zone: str, now: datetime) -> str | None:
    """Found the studio where there is none yet, and keep its time zone as the settings say.

    Gives the key of a one-time link for the owner as long as no owner has a passphrase, else None. Who the
    owner is and what the studio is called is asked behind the link; until then they are 'Owner' and nameless.
    """
    with transaction(session):
        if session.exec(select(StudioRow.id)).first() is None:
            found_studio(session, facts=Studio("", time_zone=time_zone), actor=PROGRAM, now=now)
            add_user(session, name="Owner", role=Role.OWNER, actor=PROGRAM, now=now)
        facts = studio(session)
        if facts.time_zone != time_zone:
            change_studio(session, facts=replace(facts, time_zone=time_zone), actor=PROGRAM, now=now)
        owners = [user for user in users(session) if user.role is Role.OWNER]
        if any(owner.has_passphrase for owner in owners):
            return None
        return make_link(session, user_name=owners[0].name, actor=PROGRAM, now=now)
