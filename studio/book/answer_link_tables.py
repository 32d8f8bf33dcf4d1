"""The table of the links by which customers answer a quote."""

from datetime import datetime
from enum import StrEnum

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field

from studio.book.types import Moment, Row


class Reply(StrEnum):
    """What a customer answered by the link."""

    YES = "yes"
    NO = "no"


class AnswerLinkRow(Row, table=True):
    """A link to one quote. Only the hash of its key is kept; `ended_at` where another took its place.

    Of an answer it keeps the name that was typed, a word with a no, the address it came from, and the hash
    of the paper that was agreed to.
    """

    __tablename__ = "answer_links"
    __table_args__ = (
        CheckConstraint("reply IS NULL OR reply IN ('yes', 'no')", name="reply"),
        CheckConstraint("(reply IS NULL) = (answered_at IS NULL)", name="answered_at"),
    )

    id: int = Field(default=None, primary_key=True)
    quote_id: int = Field(foreign_key="quotes.id", index=True)
    key_hash: str = Field(sa_type=Text, unique=True)
    made_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    ended_at: datetime | None = Field(default=None, sa_type=Moment)
    reply: str | None = Field(default=None, sa_type=Text)
    answered_at: datetime | None = Field(default=None, sa_type=Moment)
    name: str = Field(default="", sa_type=Text)
    words: str = Field(default="", sa_type=Text)
    address: str = Field(default="", sa_type=Text)
    sha256: str | None = Field(default=None, sa_type=Text)
