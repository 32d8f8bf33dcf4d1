"""What a quote and the yes to it are when read or asked for: frozen values, never rows."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from typing import Any

from studio.book.outbox_values import Mail
from studio.craft.missing import Deposit
from studio.craft.pricing import PriceBreakdown, QuoteLine
from studio.craft.rates import MetalPrice, Rates


class QuoteState(StrEnum):
    """How it stands with a quote. Whether an open one has run out is told by the clock."""

    OPEN = "open"
    AGREED = "agreed"
    SUPERSEDED = "superseded"  # another one stands in its place, or the order changed under it


class QuoteKind(StrEnum):
    """A quote for an order, or an amendment to what was agreed."""

    QUOTE = "quote"
    AMENDMENT = "amendment"


class SentHow(StrEnum):
    """How a quote left the studio."""

    BY_HAND = "by hand"
    MAIL = "e-mail"
    POST = "post"
    MESSAGE = "message"


@dataclass(frozen=True, slots=True)
class QuoteTerms:
    """What one quote says otherwise than the rates. `minutes` is planned time by ring, '2026-118/1'."""

    valid_days: int | None = None
    deposit_percent: Decimal | None = None
    minutes: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class QuoteDraft:
    """A quote before it is issued: all that will stand on it, and the version of the order it was made from.

    `rates` are those in force with the terms of this quote put in; `prices` all metal prices of the day.
    `frozen` is what the book will keep of it, as plain JSON values; the paper is made from it alone.
    `others` are the prices of the variants by their keys, those of the order's own rings left out.
    """

    number: str
    order_number: str
    revision: int
    version: int
    issued_on: date
    valid_until: date
    breakdown: PriceBreakdown
    rates: Rates
    prices: Mapping[str, MetalPrice]
    stale: tuple[MetalPrice, ...]
    frozen: Mapping[str, Any]
    others: Mapping[str, PriceBreakdown] = field(default_factory=dict)
    kind: QuoteKind = QuoteKind.QUOTE


@dataclass(frozen=True, slots=True)
class Sending:
    """One time a quote left the studio. `sent_to` is a name, an address or a number, as typed."""

    at: datetime
    how: SentHow
    sent_to: str
    actor: str


@dataclass(frozen=True, slots=True)
class QuotedVariant:
    """What one way to make the order costs, in minor units. `key` is 'a', 'b' or 'c'."""

    key: str
    lines: tuple[QuoteLine, ...]
    net_minor: int
    tax_minor: int
    total_minor: int
    deposit_minor: int


@dataclass(frozen=True, slots=True)
class Quote:
    """One quote as issued. Money in minor units of `currency`, moments in UTC.

    It is good until `expires_at`, the end of `valid_until` in the studio's time zone. `sha256` is that of
    the paper's bytes; it and `rendered_at` are None where the paper is not made yet. `variants` are the ways
    to make it that the customer chooses from, the first with the quote's own figures; none without a choice.
    `mails` are its letters in the outbox, the first queued first.
    """

    number: str
    order_number: str
    kind: QuoteKind
    revision: int
    state: QuoteState
    issued_at: datetime
    issued_by: str
    valid_until: date
    expires_at: datetime
    currency: str
    lines: tuple[QuoteLine, ...]
    net_minor: int
    tax_minor: int
    total_minor: int
    deposit_minor: int
    superseded_at: datetime | None
    sha256: str | None
    rendered_at: datetime | None
    sendings: tuple[Sending, ...]
    variants: tuple[QuotedVariant, ...] = ()
    mails: tuple[Mail, ...] = ()

    def has_expired(self, now: datetime) -> bool:
        """Whether its last day is over."""
        return now >= self.expires_at


@dataclass(frozen=True, slots=True)
class Agreement:
    """The yes to a quote: who said it, who noted it, and how it stands with the deposit.

    `total_minor` is what was agreed, the last amendment counted. `variant` is the key of the way
    chosen, None without a choice.
    `reason` says why a quote that had run out was let through. `paid_minor` is what was paid of the
    order, `paid_on` the day of the last payment, `without_deposit` why the work may begin without all of the
    deposit. Without a reason the deposit is open until what was paid reaches what was asked.
    """

    quote_number: str
    is_amended: bool
    total_minor: int
    variant: str | None
    name: str
    agreed_at: datetime
    noted_by: str
    reason: str | None
    currency: str
    deposit_asked_minor: int
    paid_minor: int
    paid_on: date | None
    without_deposit: str | None
    waived_at: datetime | None
    waived_by: str | None

    @property
    def deposit(self) -> Deposit:
        """How it stands with the deposit: settled by the whole of it or by a reason, open after a part."""
        if self.without_deposit is not None:
            return Deposit.SETTLED
        if not self.paid_minor and not self.deposit_asked_minor:
            return Deposit.NOT_ASKED
        return Deposit.SETTLED if self.paid_minor >= self.deposit_asked_minor else Deposit.OPEN

    @property
    def is_part_paid(self) -> bool:
        """Whether something was paid, but less than was asked."""
        return 0 < self.paid_minor < self.deposit_asked_minor
