"""What a letter in the outbox is when read: frozen values, never rows."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from studio.book.actor import Actor

LEASE = timedelta(minutes=10)
"""How long a letter belongs to the process that took it: far longer than a talk with a server may last."""
PAUSES = tuple(timedelta(minutes=minutes) for minutes in (1, 5, 15, 60, 240, 1440))
"""How long to wait after the first try, the second, and so on; after one more the letter is given up."""


LINK_HERE = "[link]"
"""What the words of a reminder have where the link to the customer's own page comes in as it leaves."""


class MailKind(StrEnum):
    """A quote for the customer, the same letter to the studio itself, or a reminder."""

    QUOTE = "quote"
    TEST = "test"
    REMINDER = "reminder"


class About(StrEnum):
    """What a reminder asks for: an answer to a quote, an open deposit, the balance of what is ready."""

    QUOTE = "quote"
    DEPOSIT = "deposit"
    BALANCE = "balance"


class MailState(StrEnum):
    """How far a letter has come. That the mail server has it says nothing of its being read.

    A reminder may be taken along, as a file or a text, to be sent by other ways; it is not needed where what
    it asks for came before it left.
    """

    QUEUED = "queued"
    HANDED_OVER = "handed over"
    REFUSED = "refused"
    TAKEN = "taken along"
    NOT_NEEDED = "not needed"


@dataclass(frozen=True, slots=True)
class Mail:
    """One letter in the outbox. `answer` is what was said to its last try, '' before the first.

    `settled_at` is when it was handed over or refused, `next_try_at` when it is tried (again). `about` is
    what a reminder asks for, None for other letters.
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
    about: About | None = None


@dataclass(frozen=True, slots=True)
class TakenMail:
    """A letter that one process has taken to hand it over; `tries` says by which try it is.

    `actor` is who queued it. A reminder has its subject and its words.
    """

    id: int
    quote: str
    kind: MailKind
    to: str
    message_id: str
    tries: int
    queued_at: datetime
    actor: Actor
    about: About | None = None
    subject: str = ""
    words: str = ""

    @property
    def wants_link(self) -> bool:
        """Whether the letter leaves with a link, where its quote waits for an answer."""
        return self.kind is MailKind.QUOTE or (self.about is About.QUOTE and LINK_HERE in self.words)


@dataclass(frozen=True, slots=True)
class RefusedMail:
    """A quote's letter, or a reminder, that the customer did not get."""

    quote: str
    to: str
    answer: str
    about: About | None = None
