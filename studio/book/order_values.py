"""What an order is when read or asked for: frozen values, never rows."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import Enum, StrEnum
from typing import Final, Generic, Literal, TypeVar

from studio.book.audit import AuditLine
from studio.book.mending_values import MendedBy
from studio.book.quote_values import Agreement, Quote, QuoteState
from studio.craft.designs import Design, Finger, Pattern, Profile, System
from studio.craft.mends import Mends
from studio.craft.missing import Missing
from studio.craft.orders import State
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.reckonings import Reckoning


class Unset(Enum):
    """The mark of a field that a change does not speak of; None would mean 'take it away'."""

    UNSET = "unset"


Item = TypeVar("Item")
UNSET: Final = Unset.UNSET
IsUnset = Literal[Unset.UNSET]


@dataclass(frozen=True, slots=True)
class CustomerDraft:
    """A customer as told at the counter."""

    name: str
    phone: str | None = None
    email: str | None = None


@dataclass(frozen=True, slots=True)
class RingDraft:
    """One ring as chosen: whose finger, which design, and the reasons given for its warnings by code.

    `taken_by` measured the finger at `taken_at` (UTC); None means whoever writes the order, and now.
    """

    finger: Finger
    design: Design
    taken_by: str | None = None
    taken_at: datetime | None = None
    reasons: Mapping[str, str] = field(default_factory=dict)
    particulars: Particulars = NOT_ASKED


@dataclass(frozen=True, slots=True)
class OrderTerms:
    """The days of an order, its note, the metals to avoid as `read_avoid` writes them, who may collect it.

    `promised_at` is a moment in UTC, the others are dates. `mends` is the earlier ring it mends, if it does.
    """

    wanted_on: date | None = None
    wanted_hard: bool = False
    promised_at: datetime | None = None
    bench_on: date | None = None
    note: str = ""
    avoid: str | None = None
    collects: str = ""
    mends: Mends | None = None


@dataclass(frozen=True, slots=True)
class OrderChanges:
    """What to change; a field left UNSET stays. `rings` replaces the whole list."""

    customer: CustomerDraft | IsUnset = UNSET
    wanted_on: date | IsUnset | None = UNSET
    wanted_hard: bool | IsUnset = UNSET
    promised_at: datetime | IsUnset | None = UNSET
    bench_on: date | IsUnset | None = UNSET
    note: str | IsUnset = UNSET
    avoid: str | IsUnset | None = UNSET
    collects: str | IsUnset = UNSET
    mends: Mends | IsUnset | None = UNSET
    rings: tuple[RingDraft, ...] | IsUnset = UNSET


@dataclass(frozen=True, slots=True)
class OrderCustomer:
    """Whose order it is, with the version of the customer's own page."""

    id: int
    name: str
    phone: str | None
    email: str | None
    note: str
    version: int


@dataclass(frozen=True, slots=True)
class OrderRing:
    """One ring of an order with all its figures, reckoned anew from what is stored."""

    position: int
    finger: Finger
    design: Design
    taken_by: str | None
    taken_at: datetime
    reasons: Mapping[str, str]
    reckoning: Reckoning
    particulars: Particulars = NOT_ASKED

    @property
    def reasons_given(self) -> frozenset[str]:
        """The codes of the warnings that somebody gave a reason for."""
        return frozenset(code for code, reason in self.reasons.items() if reason.strip())

    @property
    def draft(self) -> RingDraft:
        """This ring as it would be asked for again, with nothing changed."""
        return RingDraft(
            self.finger, self.design, self.taken_by, self.taken_at, self.reasons, self.particulars
        )


@dataclass(frozen=True, slots=True)
class Order:
    """One order as it stands. Moments are UTC.

    `quotes` are all it ever had, the first revision first; `agreement` is the yes that holds, None also for
    an order that was agreed before there were quotes. `mended_by` are later orders that mend a ring of it.
    """

    number: str
    state: State
    version: int
    customer: OrderCustomer
    terms: OrderTerms
    rings: tuple[OrderRing, ...]
    agreed_name: str | None
    agreed_at: datetime | None
    state_since: datetime
    created_at: datetime
    history: tuple[AuditLine, ...]
    missing: Missing
    quotes: tuple[Quote, ...]
    agreement: Agreement | None
    mended_by: tuple[MendedBy, ...] = ()

    @property
    def standing_quote(self) -> Quote | None:
        """The quote that is not superseded, or None."""
        return next((quote for quote in self.quotes if quote.state is not QuoteState.SUPERSEDED), None)


@dataclass(frozen=True, slots=True)
class RingLine:
    """A ring as a list names it: 'O½, flat 6 × 1.6, hammered, 750 yellow gold'. Lengths in mm."""

    position: int
    system: System
    label: str
    profile: Profile
    width_mm: float
    thickness_mm: float
    pattern: Pattern
    alloy: str


class DayKind(StrEnum):
    """What happens on an order's next day."""

    WANTED = "wanted"
    BENCH = "bench"
    PROMISED = "promised"
    COLLECTS = "collects"
    SINCE = "since"  # nothing more comes: the day the state began


@dataclass(frozen=True, slots=True)
class NextDay:
    """The next day of an order in the studio's time zone, with the moment where an hour was promised."""

    kind: DayKind
    on: date
    at: datetime | None = None


class HandWord(StrEnum):
    """The one word before what needs a hand."""

    LATE = "late"
    SOON = "soon"
    ENDING = "ending"
    MISSING = "missing"
    WAITING = "waiting"
    COLLECT = "collect"


class HandWhy(StrEnum):
    """The rule by which an order needs a hand, most pressing first."""

    PROMISE_PASSED = "promise passed"  # the promised moment is past, the order is not ready
    BENCH_DATE_PASSED = "bench date passed"
    PROMISED_SOON = "promised within two days"
    QUOTE_ENDS = "quote ends today or tomorrow without an answer"
    NO_BENCH_DATE = "agreed without a bench date"
    DEPOSIT_OPEN = "agreed and the deposit is open"
    QUOTE_ENDED = "quote ended without an answer"
    DRAFT_UNTOUCHED = "draft untouched for two days"
    NOT_COLLECTED = "ready and not collected"


@dataclass(frozen=True, slots=True)
class Hand:
    """Why an order needs a hand: the word, the rule, and the day or moment it hangs on."""

    word: HandWord
    why: HandWhy
    since: datetime
    on: date | None = None


@dataclass(frozen=True, slots=True)
class OrderLine:
    """An order as the list shows it. `hand` is None where it needs none."""

    number: str
    customer_id: int
    customer_name: str
    state: State
    state_since: datetime
    next_day: NextDay | None
    hand: Hand | None
    rings: tuple[RingLine, ...]


@dataclass(frozen=True, slots=True)
class Page(Generic[Item]):
    """One page of a list; `next` is what to pass as `after` for the following one, None on the last."""

    items: list[Item]
    next: str | None
