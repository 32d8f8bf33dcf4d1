"""An order's life without a database: what the book promises, said again as plainly as may be."""

from dataclasses import dataclass, field
from datetime import date, datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

from studio.book.errors import (
    MoveRefused,
    NoAgreement,
    NoRings,
    NotQuotable,
    OrderFixed,
    QuoteAnswered,
    QuoteExpired,
    QuoteSuperseded,
    VersionStale,
    WhyNot,
)
from studio.book.order_values import UNSET, OrderChanges, OrderTerms, RingDraft
from studio.book.payment_errors import NothingPaid
from studio.book.quote_values import QuoteDraft, QuoteState
from studio.craft.designs import Measured
from studio.craft.errors import Refused
from studio.craft.orders import State

WAITS = (State.DRAFT, State.QUOTED)
FORWARD = [State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER]
MOVES = {
    **dict.fromkeys(pairwise(FORWARD), False),
    **{(state, State.CALLED_OFF): True for state in (*WAITS, *FORWARD[:3])},
    (State.QUOTED, State.DRAFT): False,
    (State.AGREED, State.QUOTED): True,
    (State.AT_THE_BENCH, State.AGREED): False,
    (State.READY, State.AT_THE_BENCH): False,
    (State.HANDED_OVER, State.READY): True,
    (State.CALLED_OFF, State.DRAFT): False,
}
"""Every way an order may be moved by hand, and whether it wants a reason."""


def london_day(moment: datetime) -> date:
    """The day on the studio's wall."""
    return moment.astimezone(ZoneInfo("Europe/London")).date()


@dataclass(frozen=True, slots=True)
class No:
    """A refusal: its kind, and what it says besides."""

    error: type[Exception]
    says: object = None


@dataclass(slots=True)
class PlainQuote:
    """A quote as issued, and how it stands now."""

    draft: QuoteDraft
    paper: bytes | None
    state: QuoteState = QuoteState.OPEN


@dataclass(slots=True)
class PlainYes:
    """The yes that holds."""

    quote: PlainQuote
    name: str
    without: str | None = None


@dataclass(slots=True)
class PlainOrder:
    """An order in plain values. Each verb changes it at `now`, or says why not and leaves it as it was."""

    number: str
    customer_id: int
    terms: OrderTerms
    rings: tuple[RingDraft, ...]
    now: datetime
    since: datetime
    state: State = State.DRAFT
    version: int = 1
    entries: int = 1
    quotes: list[PlainQuote] = field(default_factory=list)
    yes: PlainYes | None = None
    paid: int = 0

    @property
    def is_deposit_open(self) -> bool:
        """Whether money is still waited for, after a yes."""
        if self.yes is None:
            return False
        return self.yes.without is None and self.paid < self.yes.quote.draft.breakdown.deposit_minor

    @property
    def standing(self) -> PlainQuote | None:
        """The quote that was not superseded."""
        return next((found for found in self.quotes if found.state is not QuoteState.SUPERSEDED), None)

    def wanted_for_quote(self, phone: str | None) -> tuple[str, ...]:
        """What a quote waits for."""
        if self.state not in WAITS:
            return ()
        told = [
            f"measured finger of ring {place}"
            for place, ring in enumerate(self.rings, 1)
            if ring.finger.measured is Measured.TOLD and ring.finger.to_label is None
        ]
        return (*["phone"] * (not phone), *["wanted day"] * (self.terms.wanted_on is None), *told)

    def wanted_for_bench(self) -> tuple[str, ...]:
        """What the bench waits for; the one warning that asks for a reason here is the narrow gauge."""
        if self.state not in {*WAITS, State.AGREED}:
            return ()
        if self.yes is not None:
            is_open = self.is_deposit_open
        else:
            is_open = self.standing is None or self.standing.draft.breakdown.deposit_minor > 0
        between = [
            f"size of ring {place}" for place, ring in enumerate(self.rings, 1) if ring.finger.to_label
        ]
        narrow = [
            f"reason for narrow gauge on ring {place}"
            for place, ring in enumerate(self.rings, 1)
            if ring.design.width_mm - (ring.finger.gauge_width_mm or 99) > 2 and not ring.reasons
        ]
        dated = ["bench date"] * (self.terms.bench_on is None)
        return (*dated, *["deposit"] * is_open, *between, *narrow)

    def change(self, version: int, changes: OrderChanges) -> No | None:
        """The order as asked for; a quoted one whose rings or days change is a draft again."""
        if version != self.version:
            return No(VersionStale, self.version)
        if changes.rings == ():
            return No(NoRings)
        asked = {
            name: value
            for name in ("bench_on", "note", "wanted_on", "wanted_hard", "promised_at")
            if (value := getattr(changes, name)) is not UNSET and value != getattr(self.terms, name)
        }
        fixed: list[str] = [name for name in ("wanted_on", "wanted_hard", "promised_at") if name in asked]
        rings = self.rings if changes.rings is UNSET else changes.rings
        if rings != self.rings:
            fixed.append("rings")
        if fixed and self.state not in WAITS:
            return No(OrderFixed, tuple(fixed))
        if asked or rings != self.rings:
            kept = {name: getattr(self.terms, name) for name in OrderTerms.__slots__}
            self.terms, self.rings = OrderTerms(**(kept | asked)), rings
            if fixed and self.state is State.QUOTED:
                self._supersede()
                self._note(State.DRAFT)
            else:
                self._note()
        return None

    def quotable(self, phone: str | None, *, is_refused: bool) -> No | None:
        """Whether a quote can be made ready; nothing changes."""
        if self.state not in WAITS:
            return No(MoveRefused, WhyNot.NO_SUCH_MOVE)
        if is_refused:
            return No(Refused, "deposit_percent")
        wanted = self.wanted_for_quote(phone)
        return No(NotQuotable, wanted) if wanted else None

    def issue(self, draft: QuoteDraft, paper: bytes | None) -> No | None:
        """The quote stands, the one before no longer does."""
        if draft.version != self.version:
            return No(VersionStale, self.version)
        self._supersede()
        self.quotes.append(PlainQuote(draft, paper))
        self._note(State.QUOTED)
        return None

    def agree(  # noqa: PLR0911  one answer for each refusal, in their turn
        self,
        asked: PlainQuote,
        name: str,
        amount: int | None,
        without: str | None,
        reason: str | None,
    ) -> No | None:
        """The yes to a quote."""
        if asked.state is QuoteState.AGREED:
            return No(QuoteAnswered)
        if asked.state is QuoteState.SUPERSEDED:
            return No(QuoteSuperseded, self.standing and self.standing.draft.number)
        if self.state is not State.QUOTED:
            return No(MoveRefused, WhyNot.NO_SUCH_MOVE)
        if not name:
            return No(MoveRefused, WhyNot.NEEDS_NAME)
        if london_day(self.now) > asked.draft.valid_until and reason is None:
            return No(QuoteExpired, asked.draft.valid_until)
        price = asked.draft.breakdown
        if amount is not None and (amount or price.deposit_minor):
            if not 0 < amount <= price.total_minor - self.paid:
                return No(Refused, "deposit_minor")
            self.paid += amount
        asked.state, self.yes = QuoteState.AGREED, PlainYes(asked, name, without)
        self._note(State.AGREED)
        return None

    def pay(self, version: int, amount: int) -> No | None:
        """Money came in, at most what is left."""
        if version != self.version:
            return No(VersionStale, self.version)
        if self.yes is None:
            return No(NoAgreement)
        if not 0 < amount <= self.yes.quote.draft.breakdown.total_minor - self.paid:
            return No(Refused, "amount_minor")
        self.paid += amount
        self._note()
        return None

    def give_back(self, version: int, amount: int) -> No | None:
        """Money went back, at most what was paid."""
        if version != self.version:
            return No(VersionStale, self.version)
        if not self.paid:
            return No(NothingPaid)
        if not 0 < amount <= self.paid:
            return No(Refused, "amount_minor")
        self.paid -= amount
        self._note()
        return None

    def begin_without(self, version: int, without: str | None) -> No | None:
        """Why the work may begin without all of the deposit."""
        if version != self.version:
            return No(VersionStale, self.version)
        if self.yes is None:
            return No(NoAgreement)
        if without != self.yes.without:
            self.yes.without = without
            self._note()
        return None

    def move(self, version: int, to: State, reason: str | None) -> No | None:
        """The order moved by hand."""
        if version != self.version:
            return No(VersionStale, self.version)
        if (self.state, to) not in MOVES:
            return No(MoveRefused, WhyNot.NO_SUCH_MOVE)
        if MOVES[self.state, to] and reason is None:
            return No(MoveRefused, WhyNot.NEEDS_REASON)
        if (self.state, to) == (State.AGREED, State.AT_THE_BENCH) and (wanted := self.wanted_for_bench()):
            if wanted != ("deposit",) or reason is None or self.yes is None:
                return No(MoveRefused, WhyNot.MISSING)
            self.yes.without = reason
        if to is State.DRAFT:
            self._supersede()
        if (self.state, to) == (State.AGREED, State.QUOTED) and self.yes is not None:
            self.yes.quote.state, self.yes = QuoteState.OPEN, None
        self._note(to)
        return None

    def _supersede(self) -> None:
        if self.standing is not None:
            self.standing.state = QuoteState.SUPERSEDED
        self.yes = None

    def _note(self, state: State | None = None) -> None:
        if state is not None:
            self.state, self.since = state, self.now
        self.version += 1
        self.entries += 1
