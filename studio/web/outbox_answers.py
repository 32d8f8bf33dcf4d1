"""The status and the sentence for each thing the book refuses of letters."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.outbox_errors import (
    MailNotRefused,
    MailUnknown,
    NothingToRemind,
    QuoteRunOut,
    RemindedLately,
)
from studio.book.outbox_values import About
from studio.web.days import full_day_words
from studio.web.errors import Declined

NOTHING_TO_REMIND = {
    About.QUOTE: "No quote of this order waits for an answer.",
    About.DEPOSIT: "No deposit of this order is open.",
    About.BALANCE: "This order is not ready, or nothing is to be paid any more.",
}
OUTBOX_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    MailUnknown: lambda _: Declined(404, "There is no such mail with this quote."),
    MailNotRefused: lambda _: Declined(409, "This mail was not refused, so it is not sent again."),
    NothingToRemind: lambda error: Declined(409, NOTHING_TO_REMIND[error.about]),
    RemindedLately: lambda _: Declined(
        409, "They were reminded of this within the last day. Say that it is meant again."
    ),
    QuoteRunOut: lambda error: Declined(
        409,
        f"This quote was good until {full_day_words(error.valid_until)}. Make a new one, then send that.",
    ),
}
