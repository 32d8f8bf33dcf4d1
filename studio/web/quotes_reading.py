"""What is typed about a quote: its terms, how it was sent, the yes to it, its deposit."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from studio.book.order_values import Order
from studio.book.payment_values import Sum
from studio.book.quotes import QuoteTerms, SentHow
from studio.book.rate_limits import MOST_DAYS, MOST_MINUTES
from studio.book.variants import FIRST
from studio.craft.payments import Method
from studio.web.amounts import read_amount, read_count, read_percent
from studio.web.errors import FieldError
from studio.web.reading import Reading, sure
from studio.web.texts import read_name, read_text

T = TypeVar("T")

_read_minutes = read_count(0, MOST_MINUTES, "minute", "minutes")
LONGEST_REASON, LONGEST_ADDRESS = 500, 200


@dataclass(frozen=True, slots=True)
class YesTyped:
    """A yes as it was noted: who said it, the deposit or why there is none, and why a late one counts."""

    name: str
    variant: str | None
    deposit: Sum | None
    without_deposit: str | None
    reason: str | None


@dataclass(frozen=True, slots=True)
class SentTyped:
    """How a quote left the studio, and to whom."""

    how: SentHow
    to: str


def minutes_field(position: int, key: str = FIRST) -> str:
    """The name of the field for the minutes of one ring: 'minutes-2', of a variant 'minutes-2b'."""
    return f"minutes-{position}{key.removeprefix(FIRST)}"


def read_terms(raw: Mapping[str, object], order: Order) -> QuoteTerms:
    """What this quote says otherwise than the studio's rates; an empty field is as the rates say.

    Raises `FieldErrors` at `valid_days`, `deposit_percent`, `minutes-1`.
    """
    asked = Reading(raw, "")
    days = _given(asked, "valid_days", read_count(1, MOST_DAYS, "day", "days"))
    percent = _given(asked, "deposit_percent", read_percent(100))
    times = {
        f"{order.number}/{ring.position}{key.removeprefix(FIRST)}": _given(
            asked, minutes_field(ring.position, key), _read_minutes
        )
        for key in (FIRST, *(one.key for one in order.variants))
        for ring in order.rings
    }
    typed = {name: minutes for name, minutes in times.items() if minutes is not None}
    asked.stop()
    return QuoteTerms(valid_days=days, deposit_percent=percent, minutes=typed)


def read_yes_to(
    raw: Mapping[str, object], currency: str, *, is_late: bool, variants: tuple[str, ...] = ()
) -> YesTyped:
    """The yes, which of `variants` it chose, what was paid of the deposit.

    Where that is not all, also why the work begins all the same.
    """
    asked = Reading(raw, "")
    name = asked.needed("name", read_name, "name of who said yes")
    variant = _text(asked, "variant")
    if variants and variant not in variants:
        asked.add("variant", "Which one did they choose?")
    deposit, without = _read_deposit(asked, currency)
    how = asked.choice("deposit_how", Method) if asked.has("deposit_how") else None
    reason = _text(asked, "reason")
    if is_late and not reason:
        asked.add("reason", "The quote has run out. Say why it is let through.")
    asked.stop()
    paid = None if deposit is None else Sum(deposit, how or Method.NOT_SAID)
    return YesTyped(sure(name), variant, paid, without, reason)


def read_sent(raw: Mapping[str, object]) -> SentTyped:
    """How the quote left, and to whom."""
    asked = Reading(raw, "")
    how = asked.choice("how", SentHow)
    if not asked.has("how"):
        asked.add("how", "How did it leave?")
    to = asked.read("to", lambda value, field: read_text(value, field, longest=LONGEST_ADDRESS))
    asked.stop()
    return SentTyped(sure(how), to or "")


def at_its_field(error: FieldError) -> FieldError:
    """The book speaks of `deposit_minor`, the page of `deposit`."""
    return FieldError("deposit" if error.field == "deposit_minor" else error.field, error.message)


def _read_deposit(asked: Reading, currency: str) -> tuple[int | None, str | None]:
    deposit = _given(asked, "deposit", read_amount(currency))
    without = _text(asked, "without_deposit")
    if deposit == 0:
        asked.add("deposit", "Nothing was paid? Leave it empty, or say below why the work begins without.")
    return deposit, without


def _given(asked: Reading, name: str, reader: Callable[[object, str], T]) -> T | None:
    """What `reader` makes of a field, None where it is empty."""
    return asked.read(name, reader) if asked.has(name) else None


def _text(asked: Reading, name: str) -> str | None:
    found = asked.read(name, lambda value, field: read_text(value, field, longest=LONGEST_REASON))
    return found or None
