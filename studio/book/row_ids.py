"""Reading a row by a number that somebody sent: whatever the number is, there is a row or there is none."""

from typing import TypeVar

from sqlmodel import Session

from studio.book.types import Row

LARGEST_ID = 2**31 - 1
"""What a column of whole numbers keeps in PostgreSQL; a server refuses to compare it with more."""
Kind = TypeVar("Kind", bound=Row)


def row_by_id(session: Session, kind: type[Kind], number: int, *, is_to_change: bool = False) -> Kind | None:
    """The row of this number, None where there is none; to be changed, nobody else changes it meanwhile."""
    if not 0 < number <= LARGEST_ID:
        return None
    if is_to_change:
        return session.get(kind, number, with_for_update=True, populate_existing=True)
    return session.get(kind, number)
