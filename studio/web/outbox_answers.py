"""The status and the sentence for each thing the book refuses of letters."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.outbox_errors import MailNotRefused, MailUnknown, QuoteRunOut
from studio.web.days import full_day_words
from studio.web.errors import Declined

OUTBOX_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    MailUnknown: lambda _: Declined(404, "There is no such mail with this quote."),
    MailNotRefused: lambda _: Declined(409, "This mail was not refused, so it is not sent again."),
    QuoteRunOut: lambda error: Declined(
        409,
        f"This quote was good until {full_day_words(error.valid_until)}. Make a new one, then send that.",
    ),
}
