"""The table of the letters that go out by mail."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, Text, text
from sqlmodel import Field

from studio.book.outbox_values import About, MailKind, MailState
from studio.book.types import Moment, Row, one_of

_WAITS = text("state = 'queued'")
_REFUSED = text("state = 'refused'")


class OutboxRow(Row, table=True):
    """One letter with a quote, or a reminder: to whom, how far it has come, and what the mail server said.

    `message_id` stays the same however often it is tried, so that one which comes twice is known as one.
    `taken_until` is set while a process is at it. A reminder has what it is `about`, its subject and its
    words as somebody read them; where a link comes in they say so, and have none.
    """

    __tablename__ = "outbox"
    __table_args__ = (
        CheckConstraint(one_of("kind", MailKind), name="kind"),
        CheckConstraint(one_of("state", MailState), name="state"),
        CheckConstraint(f"about IS NULL OR {one_of('about', About)}", name="about"),
        CheckConstraint("(kind = 'reminder') = (about IS NOT NULL)", name="reminder"),
        CheckConstraint("(state = 'queued') = (settled_at IS NULL)", name="settled_at"),
        CheckConstraint("(state = 'queued') = (next_try_at IS NOT NULL)", name="next_try_at"),
        Index(None, "quote_id", "id"),
        Index("ix_outbox_waiting", "next_try_at", sqlite_where=_WAITS, postgresql_where=_WAITS),
        Index("ix_outbox_refused", "quote_id", sqlite_where=_REFUSED, postgresql_where=_REFUSED),
    )

    id: int = Field(default=None, primary_key=True)
    quote_id: int = Field(foreign_key="quotes.id")  # indexed by (quote_id, id)
    to_address: str = Field(sa_type=Text)
    kind: str = Field(sa_type=Text)
    state: str = Field(default=MailState.QUEUED, sa_type=Text)
    tries: int = 0
    next_try_at: datetime | None = Field(default=None, sa_type=Moment)
    taken_until: datetime | None = Field(default=None, sa_type=Moment)
    last_answer: str = Field(default="", sa_type=Text)
    message_id: str = Field(sa_type=Text, unique=True)
    queued_at: datetime = Field(sa_type=Moment)
    settled_at: datetime | None = Field(default=None, sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    about: str | None = Field(default=None, sa_type=Text)
    subject: str = Field(default="", sa_type=Text)
    words: str = Field(default="", sa_type=Text)
