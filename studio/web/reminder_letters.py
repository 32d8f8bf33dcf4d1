"""The reminder's letter, out of the book: what it says at first, and as it leaves with somebody's words."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlmodel import Session

from studio import clock
from studio.book.answer_links import waits_for_answer
from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.book.outbox_values import LINK_HERE, About, Mail
from studio.book.owed import owed
from studio.book.quote_paper import paper_of_issued
from studio.book.quote_reads import quote
from studio.book.quote_values import Quote
from studio.book.reminders import quote_to_remind_of, reminders_of
from studio.book.studio import studio, time_zone
from studio.papers.money import money_words
from studio.papers.quote_facts import Letterhead
from studio.papers.quote_words import ring_sentence
from studio.post import ReminderLetter
from studio.web.errors import FieldError
from studio.web.letters import variant_lines
from studio.web.reminder_words import RemindedOf, reminder_subject, reminder_words


@dataclass(frozen=True, slots=True)
class Wording:
    """A reminder as it leaves: the quote it goes with, to whom, its subject and words."""

    quote: str
    to: str
    subject: str
    words: str


@dataclass(frozen=True, slots=True)
class ReminderDraft:
    """A reminder as it is offered: `said` with its `words`, whose it is, and what went before."""

    order: Order
    said: RemindedOf
    subject: str
    words: str
    reminded: tuple[Mail, ...]

    def wrong_link(self, words: str) -> FieldError | None:
        """What is to be put right where the words speak of a page that there is not."""
        if LINK_HERE not in words or self.said.has_page:
            return None
        return FieldError("words", f"There is no page to answer on for this. Take {LINK_HERE} out.")


def drafted(book: Session, number: str, about: About, *, now: datetime) -> ReminderDraft:
    """The reminder with its first words. Raises `OrderUnknown`, and `NothingToRemind` where none is due."""
    quote_number = quote_to_remind_of(book, number, about).number
    found, asked = order(book, number), quote(book, quote_number)
    zone = time_zone(book)
    promised, ready = found.terms.promised_at, found.state_since
    day: date | None = asked.valid_until
    if about is About.QUOTE:
        rings, count = _quoted(book, quote_number)
        amount = _price(asked)
    else:
        due = owed(book, [number])[number]
        rings, count = tuple(ring_sentence(ring.reckoning) for ring in found.rings), len(found.rings)
        is_deposit = about is About.DEPOSIT
        amount = money_words(due.deposit_minor if is_deposit else due.balance_minor, due.currency)
        moment = promised if is_deposit else ready
        day = None if moment is None else clock.day_of(moment, zone)
    said = RemindedOf(
        about=about,
        order=number,
        quote=quote_number,
        kind=str(asked.kind),
        customer=found.customer.name,
        rings=rings,
        count=count,
        amount=amount,
        day=day,
        has_choice=bool(asked.variants) and about is About.QUOTE,
        has_page=about is About.QUOTE and waits_for_answer(book, quote_number, now),
        studio=_letterhead(book),
    )
    before = reminders_of(book, number, about)
    return ReminderDraft(found, said, reminder_subject(said), reminder_words(said), before)


def reminder_letter(book: Session, asked: Wording) -> ReminderLetter:
    """The letter as it leaves; its link, where its words want one, comes in last of all."""
    head = _letterhead(book)
    return ReminderLetter(
        number=asked.quote,
        subject=asked.subject,
        words=asked.words,
        studio=head.full_name,
        studio_email=head.email,
        customer=order(book, quote(book, asked.quote).order_number).customer.name,
        email=asked.to,
    )


def _letterhead(book: Session) -> Letterhead:
    facts = studio(book)
    return Letterhead(facts.name, facts.subtitle, facts.address, facts.phone, facts.email)


def _quoted(book: Session, number: str) -> tuple[tuple[str, ...], int]:
    """What the quote offers, a line each, and of how many rings."""
    paper = paper_of_issued(book, number)
    return variant_lines(paper) or tuple(ring.sentence for ring in paper.rings), len(paper.rings)


def _price(asked: Quote) -> str:
    """'£1,680.00', or 'from £450.00 to £600.00' where the customer chooses."""
    totals = sorted({one.total_minor for one in asked.variants} or {asked.total_minor})
    first, last = (money_words(minor, asked.currency) for minor in (totals[0], totals[-1]))
    return first if first == last else f"from {first} to {last}"
