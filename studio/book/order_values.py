"""What an order is when read or asked for: frozen values, never rows."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import Enum
from typing import Final, Generic, Literal, TypeVar

from studio.book.audit import AuditLine
from studio.book.calling_off_values import CallingOff
from studio.book.document_values import Document
from studio.book.invoice_values import Invoice
from studio.book.mending_values import MendedBy
from studio.book.payment_values import Payment
from studio.book.quote_values import Agreement, Quote, QuoteKind, QuoteState
from studio.craft.as_made import AsMade
from studio.craft.designs import Design, Finger
from studio.craft.fit_feedback import FitAnswer
from studio.craft.goods import Good
from studio.craft.mends import Mends
from studio.craft.missing import Missing
from studio.craft.orders import State
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.payments import Account
from studio.craft.proofs import Proof
from studio.craft.reckonings import Reckoning


class Unset(Enum):
    """The mark of a field that a change does not speak of; None would mean 'take it away'."""

    UNSET = "unset"


Item = TypeVar("Item")
UNSET: Final = Unset.UNSET
IsUnset = Literal[Unset.UNSET]


@dataclass(frozen=True, slots=True)
class CustomerDraft:
    """A customer as told at the counter. `address` has up to five lines; None leaves it as it is."""

    name: str
    phone: str | None = None
    email: str | None = None
    address: str | None = None


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
    address: str = ""


@dataclass(frozen=True, slots=True)
class OrderRing:
    """One ring of an order with all its figures, reckoned anew from what is stored; its blank `is_cut`."""

    position: int
    finger: Finger
    design: Design
    taken_by: str | None
    taken_at: datetime
    reasons: Mapping[str, str]
    reckoning: Reckoning
    particulars: Particulars = NOT_ASKED
    is_cut: bool = False

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
class Variant:
    """Another way to make the rings of an order, for the same fingers, called 'b' or 'c': its own are 'a'."""

    key: str
    rings: tuple[OrderRing, ...]


@dataclass(frozen=True, slots=True)
class Amending:
    """What an agreed order is to become: its rings and days, words for the customer, a charge besides.

    `charge_minor` is net, in minor units of the agreed quote's currency, with the words of its line.
    """

    rings: tuple[RingDraft, ...]
    wanted_on: date | None = None
    wanted_hard: bool = False
    promised_at: datetime | None = None
    words: str = ""
    charge_text: str = ""
    charge_minor: int = 0


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo or sketch of a ring, or of the whole order where `ring` is None; its points stay in the book.

    `sha256` is that of the JPEG the book keeps, the sides are that picture's.
    """

    id: int
    ring: int | None
    note: str
    width_px: int
    height_px: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Order:
    """One order as it stands. Moments are UTC.

    `quotes` are all it ever had, the first revision first; `agreement` is the yes that holds, None also for
    an order that was agreed before there were quotes. `variants` are offered beside its own rings;
    `amending` is an amendment being put together. `mended_by` are later orders that mend a ring of it.
    `calling_off` is how it was called off after the yes.
    `payments` are what was paid and given back, the first first.
    `documents` are its papers besides the quotes, the oldest first; `goods_held` what was taken in of the
    customer's and not given back yet; `invoices` its invoices and credit notes, the oldest first;
    `to_invoice` the numbers of the payments that may have an invoice of their own.
    `proofs` are those signed of its inscriptions, the first first; once it is handed over `made` is what its
    rings came out as, and `fits` what was said of them after weeks, by their places.
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
    variants: tuple[Variant, ...] = ()
    amending: Amending | None = None
    calling_off: CallingOff | None = None
    pictures: tuple[Picture, ...] = ()
    mended_by: tuple[MendedBy, ...] = ()
    documents: tuple[Document, ...] = ()
    goods_held: tuple[Good, ...] = ()
    invoices: tuple[Invoice, ...] = ()
    to_invoice: tuple[str, ...] = ()
    payments: tuple[Payment, ...] = ()
    proofs: tuple[Proof, ...] = ()
    made: Mapping[int, AsMade] = field(default_factory=dict)
    fits: Mapping[int, FitAnswer] = field(default_factory=dict)

    @property
    def account(self) -> Account:
        """What is owed of it, by the yes or as it was settled when it was called off, and what was paid."""
        paid_minor = sum(one.amount_minor for one in self.payments)
        if self.calling_off is not None:
            settlement = self.calling_off.settlement
            return Account(None if settlement is None else settlement.owed_minor, paid_minor)
        return Account(0 if self.agreement is None else self.agreement.total_minor, paid_minor)

    @property
    def currency(self) -> str:
        """The currency of what was agreed or paid; '' where neither was."""
        if self.agreement is not None:
            return self.agreement.currency
        return self.payments[-1].currency if self.payments else ""

    @property
    def standing_quote(self) -> Quote | None:
        """The quote or amendment that is agreed, else the one that waits for its answer, or None."""
        for state in (QuoteState.AGREED, QuoteState.OPEN):
            for quote in self.quotes:
                if quote.state is state:
                    return quote
        return None

    @property
    def open_amendment(self) -> Quote | None:
        """The amendment that waits for its answer, or None."""
        return next(
            (
                quote
                for quote in self.quotes
                if quote.state is QuoteState.OPEN and quote.kind is QuoteKind.AMENDMENT
            ),
            None,
        )


@dataclass(frozen=True, slots=True)
class Page(Generic[Item]):
    """One page of a list; `next` is what to pass as `after` for the following one, None on the last."""

    items: list[Item]
    next: str | None
