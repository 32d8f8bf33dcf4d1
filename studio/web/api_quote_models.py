"""What the API takes and gives of quotes and metal prices. Amounts are whole minor units of the currency."""

from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from pydantic import BaseModel, PlainSerializer, WithJsonSchema

from studio.book.outbox_values import MailKind, MailState
from studio.book.quotes import QuoteKind
from studio.craft.orders import State
from studio.craft.payments import LONGEST_REFERENCE, Method
from studio.craft.rates import WeightUnit
from studio.web.api_fields import Day, In, Percent, Words, one_of, text_of
from studio.web.api_models import Moment

Minor = Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "description": "minor units"})]
Count = Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 0})]
Reason = Annotated[Any, WithJsonSchema({"type": ["string", "null"], "maxLength": 500})]
Exactly = Annotated[
    Any,
    WithJsonSchema(
        {
            "type": "string",
            "description": "The price as text, at most six places after the point; kept exactly as typed.",
            "examples": ["31.50"],
        }
    ),
]
AsTyped = Annotated[Decimal, PlainSerializer(lambda price: f"{price:f}", return_type=str)]
"""A price as it was typed, as text."""


class QuoteIn(In):
    """A quote to make. What is left out comes from the studio's rates; `minutes` is by ring."""

    valid_days: Count = None
    deposit_percent: Percent = None
    minutes: dict[str, Count] | None = None


class AgreementIn(In):
    """Who said yes. Until the deposit is paid in full, or a reason is given to do without, it stays open.

    `variant` is the key of the one chosen, where the quote offers a choice. `reason` is why a quote is agreed
    after it has run out.
    """

    name: Words = None
    variant: Words = None
    deposit_minor: Minor = None
    deposit_method: Annotated[Any, one_of(*Method)] = None
    deposit_reference: Annotated[Any, text_of(LONGEST_REFERENCE)] = None
    without_deposit: Reason = None
    reason: Reason = None


class MailIn(In):
    """A letter with a quote to send; without `to` it goes to the customer's address."""

    to: Annotated[Any, text_of(254)] = None


class MetalPriceIn(In):
    """A metal's price on a day, in the studio's currency."""

    metal: Words = None
    price: Exactly = None
    unit: Annotated[Any, WithJsonSchema({"type": "string", "enum": [*WeightUnit]})] = None
    on: Day = None
    source: Words = None


class QuoteLineOut(BaseModel):
    """One line of a quote as the customer reads it."""

    text: str
    net_minor: int
    tax_minor: int


class VariantOut(BaseModel):
    """What one way to make the order costs."""

    key: str
    net_minor: int
    tax_minor: int
    total_minor: int
    deposit_minor: int
    lines: list[QuoteLineOut]


class QuoteOut(BaseModel):
    """A quote as it was issued. It is good to the end of `valid_until` in the studio's time zone.

    `variants` are the ways the customer chooses from, the first with the quote's own figures; empty where
    there is no choice.

    `sha256` is that of the paper; null only while a demo's earlier paper is still being made.
    """

    number: str
    kind: QuoteKind
    revision: int
    net_minor: int
    tax_minor: int
    total_minor: int
    deposit_minor: int
    currency: str
    valid_until: date
    lines: list[QuoteLineOut]
    variants: list[VariantOut]
    pdf: str
    sha256: str | None


class MailOut(BaseModel):
    """A letter with a quote. `answer` are the mail server's words to its last try, '' before the first.

    Once it is handed over or refused (`settled_at`) there is no next try.
    """

    id: int
    kind: MailKind
    to: str
    state: MailState
    queued_at: Moment
    tries: int
    next_try_at: Moment | None
    settled_at: Moment | None
    answer: str


class QuoteSeenOut(QuoteOut):
    """A quote of an order, with how it stands: open, expired, agreed or superseded.

    `mails` are its letters, the first queued first; null for roles that do not see the customer's contact.
    """

    state: str
    issued_at: Moment
    mails: list[MailOut] | None


class QuoteNamedOut(BaseModel):
    """A quote of an order for roles that see no price."""

    number: str
    kind: QuoteKind
    revision: int
    state: str
    valid_until: date
    issued_at: Moment


class AgreedOut(BaseModel):
    """An order after the yes."""

    order: str
    state: State


class MetalPriceOut(BaseModel):
    """A metal's price as it was put in."""

    metal: str
    price: AsTyped
    currency: str
    unit: WeightUnit
    on: date
    source: str
