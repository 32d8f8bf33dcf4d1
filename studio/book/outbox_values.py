"""What a letter in the outbox is when read: frozen values, never rows."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from studio.book.actor import Actor

LEASE = timedelta(minutes=10)
"""How long a letter belongs to the process that took it: far longer than a talk with a server may last."""
PAUSES = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 15, 60, 240, 1440))
"""How long to wait after the first try, the second, and so on; after one more the letter is given up."""


class MailKind(StrEnum):
    """A quote for the customer, or the same letter to the studio itself."""

    QUOTE = "quote"
    TEST = "test"


class MailState(StrEnum):
    """How far a letter has come. That the mail server has it says nothing of its being read."""

    QUEUED = "queued"
    HANDED_OVER = "handed over"
    REFUSED = "refused"


@dataclass(frozen=True, slots=True)
class Mail:
    """One letter in the outbox. `answer` is what was said to its last try, '' before the first.

    `settled_at` is when it was handed over or refused, `next_try_at` when it is tried (again).
    """

    id: int
    kind: MailKind
    to: str
    state: MailState
    tries: int
    queued_at: datetime
    next_try_at: datetime | None
    settled_at: datetime | None
    answer: str
    actor: str


@dataclass(frozen=True, slots=True)
class TakenMail:
    """A letter that one process has taken to hand it over; `tries` says by which try it is.

    `actor` is who queued it.
    """

    id: int
    quote: str
    kind: MailKind
    to: str
    message_id: str
    tries: int
    queued_at: datetime
    actor: Actor


@dataclass(frozen=True, slots=True)
class RefusedMail:
    """A quote's letter that the customer did not get."""

    quote: str
    to: str
    answer: str
