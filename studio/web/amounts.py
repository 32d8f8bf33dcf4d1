"""Amounts, percentages and counts: how they are typed and how they stand in their fields.

Nothing goes through a float: what is typed is read as Decimal, and kept as whole minor units or hundredths of
a percent.
"""

import re
import unicodedata
from collections.abc import Callable
from decimal import Decimal

from babel.numbers import get_currency_symbol

from studio.craft.money import from_minor, minor_digits, to_minor
from studio.craft.units import has_ambiguous_comma
from studio.web.echo import echo
from studio.web.errors import FieldError, FieldErrors
from studio.web.texts import read_text

LOCALE = "en_GB"
LONGEST_TYPED = 40
MOST_MINOR = 1_000_000_000
_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+")


def shown_amount(minor: int, currency: str) -> str:
    """An amount as its field shows it, which reads back to the same: GBP 4800 gives '48.00'."""
    return f"{from_minor(minor, currency):f}"


def shown_percent(percent: Decimal) -> str:
    """A percentage as its field shows it: Decimal('12.50') gives '12.5', Decimal('20') gives '20'."""
    return _trimmed(f"{percent:f}")


def currency_sign(currency: str) -> str:
    """What stands beside a field for an amount: '£' for GBP, the code where there is no sign."""
    return get_currency_symbol(currency, locale=LOCALE)


def read_amount(currency: str) -> Callable[[object, str], int]:
    """A reader of amounts in whole currency units that gives minor units: '48', '48.50', '48,50', '£48'.

    Raises `FieldErrors` for what is no amount, is below 0, or has more places than the currency.
    """
    digits, most = minor_digits(currency), from_minor(MOST_MINOR, currency)

    def reader(value: object, field: str) -> int:
        text = _plain(value, field).removeprefix(currency_sign(currency).lower())
        number = _decimal(text.removeprefix(currency.lower()).removesuffix(currency.lower()).strip(), field)
        if _places(number) > digits:
            places = "no places" if digits == 0 else f"{digits} places"
            raise _asks(field, f"{currency} has {places} after the point.")
        if number > most:  # before it is rounded: a Decimal of thirty digits has no room for that
            raise _asks(field, "This is more than we can reckon with.")
        return to_minor(number, currency)

    return reader


def read_percent(most: int, *, is_reached: bool = True) -> Callable[[object, str], Decimal]:
    """A reader of percentages from 0 to `most`, itself allowed or not, with at most two places."""

    def reader(value: object, field: str) -> Decimal:
        number = _decimal(_plain(value, field).removesuffix("%").strip(), field)
        if _places(number) > 2:
            raise _asks(field, "A percentage has at most two places after the point.")
        if number > most or (number == most and not is_reached):
            raise _asks(field, f"This has to be {'at most' if is_reached else 'below'} {most} %.")
        return number

    return reader


def read_count(low: int, high: int, one: str, many: str) -> Callable[[object, str], int]:
    """A reader of whole numbers from `low` to `high`, with its word behind it or not: '14', '14 days'."""

    def reader(value: object, field: str) -> int:
        text = str(value) if isinstance(value, int) and not isinstance(value, bool) else _plain(value, field)
        text = text.removesuffix(many).removesuffix(one).strip()
        if not (text.isascii() and text.removeprefix("-").isdigit()):
            raise _asks(field, "This has to be a whole number.")
        if not low <= int(text) <= high:
            raise _asks(field, f"This has to be {low} to {high} {many}.")
        return int(text)

    return reader


def read_minor(value: object, field: str) -> int:
    """An amount that a program sends in minor units: a whole number, at least 0."""
    if not isinstance(value, int) or isinstance(value, bool):
        raise _asks(field, "This has to be a whole number of minor units.")
    if not 0 <= value <= MOST_MINOR:
        raise _asks(field, f"This has to be 0 to {MOST_MINOR}.")
    return value


def _plain(value: object, field: str) -> str:
    """What was typed in one alphabet and small letters."""
    if isinstance(value, int) and not isinstance(value, bool):
        value = str(value)[:LONGEST_TYPED]
    if isinstance(value, float):
        value = repr(value)
    text = read_text(value, field, longest=LONGEST_TYPED, is_printed=False)
    return " ".join(unicodedata.normalize("NFKC", text).split()).lower()


def _decimal(text: str, field: str) -> Decimal:
    if has_ambiguous_comma(text):
        said = echo(text) or "This"
        raise _asks(field, f"{said} could be a thousand or a fraction. Write a point, or no comma.")
    if text.startswith(("-", "−")):
        raise _asks(field, "This cannot be below 0.")
    if not _NUMBER.fullmatch(text):
        raise _asks(field, "We cannot read this as a number. Type it like 48 or 48.50.")
    return Decimal(text.replace(",", ".").rstrip("."))


def _places(number: Decimal) -> int:
    """How many digits stand after the point, noughts at the end counted."""
    exponent = number.as_tuple().exponent
    return -exponent if isinstance(exponent, int) and exponent < 0 else 0


def _trimmed(text: str) -> str:
    return text.rstrip("0").rstrip(".") if "." in text else text


def _asks(field: str, message: str) -> FieldErrors:
    return FieldErrors([FieldError(field, message)])
