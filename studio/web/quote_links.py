"""The part of a quote's page that tells of the customer's own page: its link, and what was answered there."""

from collections.abc import Sequence
from dataclasses import dataclass

from studio.book.answer_link_tables import Reply
from studio.book.answer_links import Answer
from studio.book.quotes import Quote
from studio.craft.directions import apart
from studio.craft.roles import Right
from studio.web.security import Seat
from studio.web.wording import hour_words


@dataclass(frozen=True, slots=True)
class LinkPart:
    """The customer's own page of the quote: a fresh link where one was just made, and what was answered.

    `words` are those of a letter with the fresh link; `letter_href` makes one, as text, and with `.eml`
    behind it as a file.
    """

    href: str
    letter_href: str
    fresh: str
    words: str
    answers: tuple[str, ...]


def link_part(
    quote: Quote, seat: Seat, answers: Sequence[Answer], fresh: str, words: str = "", *, can_answer: bool
) -> LinkPart | None:
    """What the quote's page says of its link, None where there is nothing to make and nothing was said."""
    may_make = can_answer and seat.may(Right.QUOTE) and not quote.has_expired(seat.now)
    if not may_make and not answers:
        return None
    return LinkPart(
        href=f"/quotes/{quote.number}/link" if may_make else "",
        letter_href=f"/quotes/{quote.number}/letter" if may_make else "",
        fresh=fresh,
        words=words,
        answers=tuple(_answer_words(one, seat) for one in answers),
    )


def _answer_words(one: Answer, seat: Seat) -> str:
    when = hour_words(one.at, seat.zone, seat.today)
    if one.reply is Reply.YES:
        return f"Yes, {when}, as {apart(one.name)}."
    return f"No, {when}: {apart(one.words)}" if one.words else f"No, {when}, without a word why."
