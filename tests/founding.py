"""The book most tests start from: a studio and its three people."""

from sqlalchemy import Engine

from studio.book.engine import session
from studio.book.people import PROGRAM, add_user
from studio.book.schema import bring_up_to_date
from studio.book.studio import Studio, found_studio
from studio.craft.roles import Role
from tests.builders import NOW

PEOPLE = {"Maren": Role.OWNER, "Ivo": Role.COUNTER, "Tilde": Role.MAKER}


def found_book(engine: Engine) -> None:
    """Bring an empty book up by the migrations, and put the studio and the people into it."""
    bring_up_to_date(engine, now=NOW)
    with session(engine) as book:
        found_studio(book, facts=Studio("Wrenfold", "goldsmiths"), actor=PROGRAM, now=NOW)
        for name, role in PEOPLE.items():
            add_user(book, name=name, role=role, actor=PROGRAM, now=NOW)
