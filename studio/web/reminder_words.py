"""What reminders say, ready to read, change and send: friendly, short, with ring, number, amount and day."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from studio.book.outbox_values import LINK_HERE, About
from studio.papers.quote_facts import Letterhead
from studio.web.wording import title_day_words


@dataclass(frozen=True, slots=True)
class RemindedOf:
    """What a reminder names: `amount` in words, `day` the quote's last, the promised, or that of being ready.

    `rings` are sentences, or the ways to choose from where it `has_choice`; `count` is of rings. Without
    `has_page` the customer has no page to answer on: the quote has ended, or it is money. `kind` is 'quote'
    or 'amendment'.
    """

    about: About
    order: str
    quote: str
    kind: str
    customer: str
    rings: tuple[str, ...]
    count: int
    amount: str
    day: date | None
    has_page: bool
    has_choice: bool
    studio: Letterhead

    @property
    def ring(self) -> str:
        """'ring' or 'rings'."""
        return "ring" if self.count == 1 else "rings"


def reminder_subject(told: RemindedOf) -> str:
    """The subject, which nobody types: 'Your ring is ready, order 2026-118'."""
    return {
        About.QUOTE: f"Your {told.kind} {told.quote} from {told.studio.full_name}",
        About.DEPOSIT: f"The deposit for your {told.ring}, order {told.order}",
        About.BALANCE: f"Your {told.ring} {'is' if told.count == 1 else 'are'} ready, order {told.order}",
    }[told.about]


def reminder_words(told: RemindedOf) -> str:
    """The text, paragraphs with an empty line between them; where a link comes in stands `LINK_HERE`."""
    of = {About.QUOTE: _of_quote, About.DEPOSIT: _of_deposit, About.BALANCE: _of_balance}[told.about]
    studio = told.studio
    end = [line for line in (studio.full_name, studio.address, studio.phone) if line]
    return _joined([[f"Dear {told.customer},"], *of(told), end])


def _of_quote(told: RemindedOf) -> list[list[str]]:
    until, say = _day(told.day), "Say which you choose" if told.has_choice else "Say yes"
    if not told.has_page:
        return [
            [f"our {told.kind} {told.quote} for your {told.ring}, {told.amount}, held until {until}."],
            [*told.rings],
            ["If you would still like it, tell us, and we write it anew. If not, a word is enough."],
        ]
    return [
        [f"our {told.kind} {told.quote} for your {told.ring}, {told.amount}, holds until {until}."],
        [*told.rings],
        [f"{say}, or tell us what is not right, on your own page:", LINK_HERE],
        ["Whoever has this link can answer in your place, so keep it to yourself."],
        [f"Or {say.lower()} at our counter, or call us."],
    ]


def _of_deposit(told: RemindedOf) -> list[list[str]]:
    promised = f", so that your {told.ring} can be ready on {_day(told.day)}" if told.day else ""
    return [
        [f"thank you for your yes to our {told.kind} {told.quote}."],
        [*told.rings],
        [f"The deposit of {told.amount} is still open. We begin once it is paid{promised}."],
        ["If you have paid it in the meantime, thank you: then this letter crossed with it."],
    ]


def _of_balance(told: RemindedOf) -> list[list[str]]:
    has, them = ("has", "it") if told.count == 1 else ("have", "them")
    return [
        [f"your {told.ring} {has} been ready since {_day(told.day)}, order {told.order}."],
        [*told.rings],
        [f"{told.amount} is still to be paid, when you collect {them} or before."],
        ["We look forward to seeing you at our counter."],
    ]


def _day(day: date | None) -> str:
    """'Saturday, 28 November 2026'."""
    return "" if day is None else f"{title_day_words(day)} {day.year}"


def _joined(paragraphs: Sequence[Sequence[str]]) -> str:
    return "\n\n".join("\n".join(lines) for lines in paragraphs if lines)
