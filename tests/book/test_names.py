"""Names that a list can show: of people, and of programs with a token."""

import pytest
from sqlmodel import Session

from studio.book.errors import NameRefused
from studio.book.people import PROGRAM, Actor, add_user, rename_user, users
from studio.book.tokens import make_token, tokens
from studio.craft.roles import Role
from tests.builders import NOW


@pytest.mark.parametrize("name", ["", "   ", "\u200b", "Ma\x07ren", "Ma\u202eren", "x" * 121])
def test_a_name_that_nobody_could_read_is_refused(
    session: Session, people: dict[Role, Actor], name: str
) -> None:
    owner = people[Role.OWNER]
    assert owner.id is not None
    before = [user.name for user in users(session)]
    with pytest.raises(NameRefused):
        add_user(session, name=name, role=Role.MAKER, actor=PROGRAM, now=NOW)
    with pytest.raises(NameRefused):
        rename_user(session, user_id=owner.id, name=name, actor=owner, now=NOW)
    with pytest.raises(NameRefused):
        make_token(session, name=name, role=Role.MAKER, actor=PROGRAM, now=NOW)
    assert [user.name for user in users(session)] == before
    assert tokens(session) == []


def test_the_spaces_of_a_name_are_single_for_programs_too(session: Session) -> None:
    make_token(session, name="  the  till ", role=Role.COUNTER, actor=PROGRAM, now=NOW)
    assert [token.name for token in tokens(session)] == ["the till"]
