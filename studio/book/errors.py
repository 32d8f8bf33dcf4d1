"""What the book refuses, as facts. The sentence a reader sees is written in `web/errors.py`."""

from datetime import date, datetime
from enum import StrEnum

from studio.craft.orders import State


class BookError(Exception):
    """The family of all that the book refuses."""


class NotFound(BookError):
    """Something asked for is not in the book."""


class OrderUnknown(NotFound):
    """No order has this number."""

    def __init__(self, number: str) -> None:
        super().__init__(f"no order {number}")
        self.number = number


class CustomerUnknown(NotFound):
    """No customer has this id."""

    def __init__(self, customer_id: int) -> None:
        super().__init__(f"no customer {customer_id}")
        self.customer_id = customer_id


class UserUnknown(NotFound):
    """Nobody of this name works here."""

    def __init__(self, name: str) -> None:
        super().__init__(f"nobody called {name} works here")
        self.name = name


class DraftUnknown(NotFound):
    """No unfinished form is kept under this key."""

    def __init__(self) -> None:
        super().__init__("no such unfinished form")


class VersionStale(BookError):
    """Somebody changed the record since it was read. `number` is the order's, or 'customer 7'."""

    def __init__(self, number: str, given: int, current: int) -> None:
        super().__init__(f"{number}: version {given} given, {current} stands")
        self.number = number
        self.given = given
        self.current = current


class NothingToMeasure(BookError):
    """There is no such ring, or it is not being made."""

    def __init__(self, number: str, position: int) -> None:
        super().__init__(f"nothing to measure on {number}/{position}")
        self.number = number
        self.position = position


class GaugeUnknown(BookError):
    """There is no gauge of this number."""

    def __init__(self, number: int) -> None:
        super().__init__(f"no gauge {number}")
        self.number = number


class PrinterUnknown(BookError):
    """There is no printer of this number."""

    def __init__(self, number: int) -> None:
        super().__init__(f"no printer {number}")
        self.number = number


class WhyNot(StrEnum):
    """Why a move is refused."""

    NO_SUCH_MOVE = "no such move"
    NEEDS_REASON = "needs a reason"
    NEEDS_NAME = "needs the name of who said yes"
    MISSING = "something is missing"
    AMENDED = "what was agreed has been amended"


class MoveRefused(BookError):
    """The order may not go from `start` to `end`. `missing` says what it waits for."""

    def __init__(
        self, number: str, start: State, end: State, why: WhyNot, missing: tuple[str, ...] = ()
    ) -> None:
        super().__init__(f"{number}: {start} to {end}: {why} {', '.join(missing)}".rstrip())
        self.number = number
        self.start = start
        self.end = end
        self.why = why
        self.missing = missing


class OrderFixed(BookError):
    """The order is agreed: these fields ('rings', 'wanted_on', 'promised_at') no longer change."""

    def __init__(self, number: str, state: State, fields: tuple[str, ...]) -> None:
        super().__init__(f"{number} is {state}: {', '.join(fields)} stand")
        self.number = number
        self.state = state
        self.fields = fields


class NoRings(BookError):
    """An order without a ring is no order."""

    def __init__(self) -> None:
        super().__init__("an order has at least one ring")


class KeyReused(BookError):
    """The idempotency key was used before, for another request."""

    def __init__(self, key: str) -> None:
        super().__init__("the key was used for another request")
        self.key = key


class BookBusy(BookError):
    """Somebody else wrote for longer than we wait; the same request may be sent again."""

    def __init__(self) -> None:
        super().__init__("the book is being written by somebody else")


class BookGone(BookError):
    """The server that keeps the book cannot be reached.

    `is_saved` is False where nothing of the request was, and None where the answer to the last word was lost:
    only the book can tell.
    """

    def __init__(self, *, is_saved: bool | None = False) -> None:
        super().__init__("the server that keeps the book cannot be reached")
        self.is_saved = is_saved


class BookFull(BookError):
    """The disk has no room left; nothing of the request was saved."""

    def __init__(self) -> None:
        super().__init__("there is no room left on the disk that holds the book")


class BookNewer(BookError):
    """The book was made by a later version of the program, which this one cannot read."""

    def __init__(self, revision: str, known: str) -> None:
        super().__init__(
            f"The book is at revision {revision}, this program knows up to {known}. Install the newer one."
        )
        self.revision = revision
        self.known = known


class LibraryTooOld(BookError):
    """The SQLite that Python brings is older than the book needs."""

    def __init__(self, version: tuple[int, ...], oldest: tuple[int, ...]) -> None:
        there, wanted = (".".join(map(str, one)) for one in (version, oldest))
        super().__init__(
            f"The SQLite of this Python is {there}, and a book in a file needs {wanted} or a newer one."
        )
        self.version = version
        self.oldest = oldest


class NameTaken(BookError):
    """Somebody of this name works here already."""

    def __init__(self, name: str) -> None:
        super().__init__(f"there is a user {name} already")
        self.name = name


class NameRefused(BookError):
    """Nobody is called like this: the name is empty, too long, or holds signs that cannot be seen."""

    def __init__(self) -> None:
        super().__init__("a name has 1 to 120 signs, all of which can be seen")


class WhyWeak(StrEnum):
    """Why a passphrase is not taken."""

    TOO_SHORT = "too short"
    TOO_LONG = "too long"
    COMMON = "common"
    OWN_NAME = "own name"


class PassphraseRefused(BookError):
    """The passphrase would be guessed, or is longer than we read."""

    def __init__(self, why: WhyWeak) -> None:
        super().__init__(f"passphrase {why}")
        self.why = why


class SignInRefused(BookError):
    """Name and passphrase do not belong together. Which of the two is wrong is not told."""

    def __init__(self) -> None:
        super().__init__("name and passphrase do not match")


class SignInWaits(BookError):
    """Too many wrong tries: the next one counts from `until` on."""

    def __init__(self, until: datetime) -> None:
        super().__init__(f"wait until {until.isoformat()}")
        self.until = until


class LinkSpent(BookError):
    """The one-time link was used, has run out, or never was."""

    def __init__(self) -> None:
        super().__init__("the link is spent")


class BackupRefused(BookError):
    """No copy was made. The text says why."""


class RestoreRefused(BookError):
    """The copy was not put in the book's place. The text says why."""


class QuoteUnknown(NotFound):
    """No quote has this number."""

    def __init__(self, number: str) -> None:
        super().__init__(f"no quote {number}")
        self.number = number


class NotQuotable(BookError):
    """The order cannot be quoted yet. `missing` says in words what it waits for: 'phone', 'price of gold'."""

    def __init__(self, number: str, missing: tuple[str, ...]) -> None:
        super().__init__(f"{number} waits for {', '.join(missing)}")
        self.number = number
        self.missing = missing


class QuoteSuperseded(BookError):
    """The quote no longer stands. `by` is the number of the one that does, or None where none does."""

    def __init__(self, number: str, by: str | None) -> None:
        super().__init__(f"quote {number} no longer stands")
        self.number = number
        self.by = by


class QuoteExpired(BookError):
    """The quote's last day, `valid_until`, is over: a yes to it wants a reason."""

    def __init__(self, number: str, valid_until: date) -> None:
        super().__init__(f"quote {number} was good until {valid_until.isoformat()}")
        self.number = number
        self.valid_until = valid_until


class QuoteAnswered(BookError):
    """The customer has said yes to this quote already."""

    def __init__(self, number: str) -> None:
        super().__init__(f"quote {number} is agreed")
        self.number = number


class QuotePdfNotYet(BookError):
    """The paper of the quote is still being made."""

    def __init__(self, number: str) -> None:
        super().__init__(f"the paper of quote {number} is not made yet")
        self.number = number


class NoAgreement(BookError):
    """No yes to a quote of this order holds: there is no deposit to note and no yes to take back."""

    def __init__(self, number: str) -> None:
        super().__init__(f"{number} has no agreement")
        self.number = number
