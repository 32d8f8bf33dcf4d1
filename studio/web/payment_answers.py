"""The status and the sentence for what the book refuses of payments."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.payment_errors import NothingPaid, PaymentUndone, PaymentUnknown
from studio.web.echo import echo
from studio.web.errors import Declined


def _unknown(error: PaymentUnknown) -> Declined:
    said = echo(error.number)
    return Declined(404, f"There is no payment {said}." if said else "There is no payment with this number.")


PAYMENT_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    PaymentUnknown: _unknown,
    PaymentUndone: lambda error: Declined(409, f"{error.number} was taken back already."),
    NothingPaid: lambda error: Declined(409, f"Nothing was paid of {error.number}, so nothing goes back."),
}
