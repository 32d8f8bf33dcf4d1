"""Reading what is typed about money: the forms on the order's page, and the yes with its deposit."""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta

from studio.book.payment_values import Sum
from studio.craft.payments import LONGEST_REFERENCE, Method
from studio.web.amounts import read_amount
from studio.web.days import read_date
from studio.web.errors import FieldError
from studio.web.order_money import sum_fields
from studio.web.reading import Reading, sure
from studio.web.texts import read_text

_LOOKS_BACK = timedelta(days=60)
"""A day without its year is the one that is so long past at most."""
_ASK = {"paid": "How much was paid?", "back": "How much goes back?"}


def read_sum(raw: Mapping[str, object], prefix: str, currency: str, *, today: date) -> Sum:
    """What was paid or goes back, out of one of the forms. Raises `FieldErrors` at its fields."""
    asked = Reading(raw, "")
    amount_field, how, reference, on = sum_fields(prefix)
    amount = asked.read(amount_field, read_amount(currency)) if asked.has(amount_field) else None
    if amount is None and not asked.is_wrong(amount_field):
        asked.add(amount_field, _ASK[prefix])
    method = asked.choice(how, Method) if asked.has(how) else None
    words = asked.read(reference, lambda value, field: read_text(value, field, longest=LONGEST_REFERENCE))
    day = asked.read(on, lambda value, field: read_date(value, field, today=today - _LOOKS_BACK))
    asked.stop()
    return Sum(sure(amount), method or Method.NOT_SAID, words or "", day)


def at_sum_fields(errors: Iterable[FieldError], prefix: str) -> tuple[FieldError, ...]:
    """The errors at the fields of one of the forms; the book speaks of `amount_minor`."""
    names = dict(zip(("amount_minor", "method", "reference", "on"), sum_fields(prefix), strict=True))
    return tuple(FieldError(names.get(error.field or "", error.field), error.message) for error in errors)
