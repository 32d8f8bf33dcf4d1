"""What the pages of reminders show: whom to remind and when that was done last, and one reminder's form."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass

from studio.book.outbox_values import LINK_HERE, About, Mail, MailState
from studio.book.reminder_reads import RemindersPage, ToRemind
from studio.book.reminders import reminded_lately
from studio.craft.directions import apart
from studio.papers.money import money_words
from studio.web.days import day_words
from studio.web.quote_mails import mail_words
from studio.web.reminder_letters import ReminderDraft
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import since_words

HEADINGS = {
    About.QUOTE: "Quotes about to end",
    About.DEPOSIT: "Open deposits",
    About.BALANCE: "Balances of what is ready",
}
_NOBODY = {
    About.QUOTE: "No quote ends within three days, and none ended in the last fourteen without an answer.",
    About.DEPOSIT: "No agreed order waits for its deposit.",
    About.BALANCE: "Nothing is to be paid for what is ready.",
}
_FORM_HEADINGS = {
    About.QUOTE: "Remind of the quote",
    About.DEPOSIT: "Remind of the deposit",
    About.BALANCE: "Remind of the balance",
}


@dataclass(frozen=True, slots=True)
class ReminderEntry:
    """One to remind: whose, of what, since when; and the last reminder, in pencil where it was refused."""

    customer: str
    number: str
    order_href: str
    what: str
    since: str
    hand: str
    last: str
    contact: str
    act_href: str


@dataclass(frozen=True, slots=True)
class RemindersPart:
    """One of the lists; `empty` says that nobody is in it, `more_href` goes on."""

    key: str
    heading: str
    entries: tuple[ReminderEntry, ...]
    empty: str
    more_href: str


@dataclass(frozen=True, slots=True)
class RemindersListPage:
    """Whom to remind. `all_href` leads back where one list alone is shown."""

    title: str
    heading: str
    note: str
    parts: tuple[RemindersPart, ...]
    all_href: str


@dataclass(frozen=True, slots=True)
class ReminderPage:
    """One reminder, ready to read and change. `link_note` says what becomes of the words for a link.

    `fresh` is the text with its link where one was just made, to be copied. Without a mail server it is not
    sent from here (`may_send`). `asks_again` where they were reminded within a day.
    """

    title: str
    heading: str
    heading_note: str
    href: str
    order_href: str
    due: str
    before: tuple[str, ...]
    to: str
    subject: str
    words: str
    link_note: str
    attached: str
    asks_again: bool
    is_again: bool
    may_send: bool
    file_kind: str
    fresh: str
    said: Said
    form_key: str
    list_href: str = "/reminders"


def reminders_list_page(
    found: Sequence[tuple[About, RemindersPage]], seat: Seat, *, is_part: bool
) -> RemindersListPage:
    """The lists as their page shows them; `is_part` where one list goes on from somewhere."""
    return RemindersListPage(
        title="Reminders",
        heading="Reminders",
        note="Whom to ask for an answer or for money. Nothing is sent before you have read it.",
        parts=tuple(_part(about, page, seat) for about, page in found),
        all_href="/reminders" if is_part else "",
    )


def reminder_page(
    draft: ReminderDraft, seat: Seat, *, has_mail: bool, said: Said | None = None, fresh: str = ""
) -> ReminderPage:
    """The reminder's form; `said` brings back what was typed and why."""
    told = said or Said()
    about, number = draft.said.about, draft.order.number
    heading = _FORM_HEADINGS[about]
    whose = f"{apart(draft.order.customer.name)}, {number}"
    return ReminderPage(
        title=f"{told.heading}: {heading}" if told.heading else f"{heading}, {whose}",
        heading=heading,
        heading_note=f"for {whose}",
        href=f"/orders/{number}/reminders/{about}",
        order_href=f"/orders/{number}",
        due=_due(draft, seat),
        before=tuple(_before(mail, seat) for mail in reversed(draft.reminded)),
        to=told.typed.get("to", draft.order.customer.email or ""),
        subject=draft.subject,
        words=told.typed.get("words", draft.words),
        link_note=f"{LINK_HERE} becomes a link to the customer's own page when it leaves."
        if draft.said.has_page
        else "",
        attached=f"With it goes the paper of {draft.said.quote}." if about is About.QUOTE else "",
        asks_again=reminded_lately(draft.reminded, seat.now) is not None or bool(told.error("again")),
        is_again=bool(told.typed.get("again")),
        may_send=has_mail,
        file_kind="outlined" if has_mail else "filled",
        fresh=fresh,
        said=told,
        form_key=secrets.token_urlsafe(18),
    )


def _part(about: About, page: RemindersPage, seat: Seat) -> RemindersPart:
    return RemindersPart(
        key=about,
        heading=HEADINGS[about],
        entries=tuple(_entry(line, seat) for line in page.items),
        empty="" if page.items else ("None on this page." if page.next else _NOBODY[about]),
        more_href=f"/reminders?kind={about}&after={page.next}" if page.next else "",
    )


def _entry(line: ToRemind, seat: Seat) -> ReminderEntry:
    last = line.reminded[-1] if line.reminded else None
    is_refused = last is not None and last.state is MailState.REFUSED
    return ReminderEntry(
        customer=apart(line.customer_name),
        number=line.number,
        order_href=f"/orders/{line.number}",
        what=_what(line, seat),
        since=_since(line, seat),
        hand="Refused:" if is_refused else "",
        last="Not reminded yet" if last is None else mail_words(last, seat),
        contact=apart(line.email) if line.email else "no e-mail",
        act_href=f"/orders/{line.number}/reminders/{line.about}",
    )


def _what(line: ToRemind, seat: Seat) -> str:
    """'2026-118-q1, £1,680.00, ends Sat 28 Nov', '£672.00 of the deposit'."""
    amount = " to ".join(money_words(minor, line.currency) for minor in line.amounts_minor)
    if line.until is not None:
        verb = "ends" if line.until >= seat.today else "ended"
        return f"{line.quote}, {amount}, {verb} {day_words(line.until, today=seat.today)}"
    return f"{amount} {'of the deposit' if line.about is About.DEPOSIT else 'to pay'}"


def _since(line: ToRemind, seat: Seat) -> str:
    since = since_words(line.since, seat.zone, seat.today)
    return {About.QUOTE: "made", About.DEPOSIT: "agreed", About.BALANCE: "ready"}[line.about] + f" {since}"


def _due(draft: ReminderDraft, seat: Seat) -> str:
    """What is due, in the studio's words."""
    told = draft.said
    if told.about is About.QUOTE:
        day = "" if told.day is None else day_words(told.day, today=seat.today)
        held = "is good until" if told.has_page else "was good until"
        return f"{told.quote}, {told.amount}, {held} {day}."
    if told.about is About.DEPOSIT:
        return f"{told.amount} of the deposit is open."
    return f"{told.amount} is to be paid."


def _before(mail: Mail, seat: Seat) -> str:
    """'Handed to the mail server 14:05, to ines@radley.example, Ivo'."""
    to = f", to {apart(mail.to)}" if mail.to else ""
    refused = "Refused: " if mail.state is MailState.REFUSED else ""
    return f"{refused}{mail_words(mail, seat)}{to}, {apart(mail.actor)}"
