"""Everything a quote says, as plain values: what its paper is made from."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from studio.craft.hallmark import HallmarkRule
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.pricing import QuoteLine
from studio.craft.reckonings import Reckoning
from studio.papers.quote_words import COMMON_RETURNS


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The studio as its papers name it; what is empty is left out."""

    name: str
    subtitle: str = ""
    address: str = ""
    phone: str = ""
    email: str = ""

    @property
    def full_name(self) -> str:
        """'Wrenfold, goldsmiths'."""
        return ", ".join(part for part in (self.name, self.subtitle) if part)

    @property
    def contact(self) -> str:
        """How to reach the studio, on one line."""
        return ", ".join(part for part in (self.phone, self.email) if part)


@dataclass(frozen=True, slots=True)
class QuotedRing:
    """One ring as quoted: all its figures, and the day its finger was measured in the studio's time zone."""

    reckoning: Reckoning
    taken_on: date | None
    particulars: Particulars = NOT_ASKED


@dataclass(frozen=True, slots=True)
class OtherWay:
    """Another way to make the order that the customer may choose: its key, rings and price."""

    key: str
    rings: tuple[QuotedRing, ...]
    lines: tuple[QuoteLine, ...]
    deposit_minor: int


@dataclass(frozen=True, slots=True)
class Amends:
    """What stood before an amendment: the agreed quote's number, day, rings, days and price; what was paid.

    `words` are the studio's own, on what changes and why.
    """

    number: str
    agreed_on: date | None
    rings: tuple[QuotedRing, ...]
    ready_at: datetime | None
    wanted_on: date | None
    total_minor: int
    paid_minor: int
    words: str = ""


@dataclass(frozen=True, slots=True)
class QuoteFacts:
    """Everything a quote says, as plain values.

    `lines` are the customer's, as priced; their sums are the sums on paper. `ready_at` is in the studio's own
    time zone. `tax_name`, `returns`, `small_print` and `notes` are the studio's own words, a line a
    paragraph; without a tax percentage the paper speaks of no tax. `others` are the variants offered beside
    these rings. With `amends` it is an amendment to what was agreed.
    """

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued_on: date
    valid_until: date
    rings: tuple[QuotedRing, ...]
    hallmark: HallmarkRule
    ready_at: datetime | None
    wanted_on: date | None
    currency: str
    lines: tuple[QuoteLine, ...]
    deposit_minor: int
    tax_percent: Decimal
    tax_name: str = "VAT"
    returns: str = COMMON_RETURNS
    small_print: str = ""
    notes: tuple[str, ...] = ()
    others: tuple[OtherWay, ...] = ()
    amends: Amends | None = None
