"""The table of the studio's practice: a row for each change, dated and never changed itself."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row


class PracticeRow(Row, table=True):
    """The studio's figures of the trade from a day on, whole, and which of them are new.

    `figures` is the JSON of all of them as the program of that day knew them, kept as the text it is: what
    was read of it once need not be read again. `changed` names the new ones, each with what it was and is.
    A row `is_carried` where an earlier day's change was put into a day that had one of its own already.
    """

    __tablename__ = "practices"
    __table_args__ = (
        CheckConstraint("length(source) <= 300", name="source"),
        Index(None, "since", "id"),
    )

    id: int = Field(default=None, primary_key=True)
    since: date
    figures: str = Field(sa_type=Text)
    changed: Any = Field(sa_type=JsonText, nullable=False)
    is_carried: bool = False
    source: str = Field(sa_type=Text)
    entered_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
