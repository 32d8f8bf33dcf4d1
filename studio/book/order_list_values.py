"""What a list of orders shows of each: frozen values, never rows."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from studio.craft.designs import Pattern, Profile, System
from studio.craft.orders import State


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
    REFUSED = "refused"
    ENDING = "ending"
    MISSING = "missing"
    WAITING = "waiting"
    COLLECT = "collect"
    ASK = "ask"


class HandWhy(StrEnum):
    """The rule by which an order needs a hand, most pressing first."""

    PROMISE_PASSED = "promise passed"  # the promised moment is past, the order is not ready
    BENCH_DATE_PASSED = "bench date passed"
    PROMISED_SOON = "promised within two days"
    OUTWORK_OVERDUE = "outside work is over its day and not back"
    SAID_NO = "the customer said no to the quote by their link"
    MAIL_REFUSED = "the letter with the quote did not go"
    QUOTE_ENDS = "quote ends today or tomorrow without an answer"
    NO_BENCH_DATE = "agreed without a bench date"
    DEPOSIT_OPEN = "agreed and the deposit is open"
    QUOTE_ENDED = "quote ended without an answer"
    DRAFT_UNTOUCHED = "draft untouched for two days"
    NOT_COLLECTED = "ready and not collected"
    FIT_NOT_ASKED = "worn for weeks, and nobody asked how it fits"


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
