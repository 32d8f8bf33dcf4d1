"""The letters with a quote on its page: how far each has come, and the form that sends one."""

from dataclasses import dataclass

from studio.book.order_values import Order
from studio.book.outbox_values import Mail, MailKind, MailState
from studio.book.quote_values import Quote
from studio.craft.directions import apart
from studio.craft.roles import Right
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import counted, since_words


@dataclass(frozen=True, slots=True)
class MailLine:
    """One letter: the word in pencil where it was refused, what became of it, the way to send it again."""

    hand: str
    words: str
    whose: str
    again_href: str
    id: int


@dataclass(frozen=True, slots=True)
class MailsPart:
    """The letters of a quote, the newest first, and the form. Without a server nothing `may_send`."""

    lines: tuple[MailLine, ...]
    to: str
    own_address: str
    may_send: bool


def mails_part(
    quote: Quote, order: Order, seat: Seat, said: Said, *, own_address: str, can_go: bool
) -> MailsPart | None:
    """The letters and the form, as far as this person may; None where there is neither.

    `can_go` says that there is a mail server and that the quote may go.
    """
    may_send = can_go and seat.may(Right.QUOTE)
    if not seat.may(Right.SEE_CONTACT) or not (may_send or quote.mails):
        return None
    return MailsPart(
        lines=tuple(_line(mail, quote, seat, may_send=may_send) for mail in reversed(quote.mails)),
        to=said.typed.get("mail_to", order.customer.email or ""),
        own_address=own_address,
        may_send=may_send,
    )


def _line(mail: Mail, quote: Quote, seat: Seat, *, may_send: bool) -> MailLine:
    is_refused = mail.state is MailState.REFUSED
    kind = "a test, " if mail.kind is MailKind.TEST else ""
    if mail.about is not None:
        kind = f"a reminder of the {mail.about}, "
    to = f"to {apart(mail.to)}, " if mail.to else ""
    return MailLine(
        hand="Refused:" if is_refused else "",
        words=mail_words(mail, seat),
        whose=f"{kind}{to}{apart(mail.actor)}",
        again_href=f"/quotes/{quote.number}/mails/{mail.id}/again" if is_refused and may_send else "",
        id=mail.id,
    )


def mail_words(mail: Mail, seat: Seat) -> str:
    """'Queued 14:05', 'Handed to the mail server 14:05', or what the server said."""

    def hour(moment: object) -> str:
        return since_words(moment, seat.zone, seat.today) if isinstance(moment, type(seat.now)) else ""

    if mail.state is MailState.REFUSED:
        return f"{apart(mail.answer)} ({hour(mail.settled_at)})"
    if mail.state is MailState.HANDED_OVER:
        return f"Handed to the mail server {hour(mail.settled_at)}"
    if mail.state is MailState.TAKEN:
        return f"Taken along {hour(mail.settled_at)}"
    if mail.state is MailState.NOT_NEEDED:
        return f"Not needed any more, not sent {hour(mail.settled_at)}"
    queued = f"Queued {hour(mail.queued_at)}"
    if not mail.answer:
        return queued
    tried = counted(mail.tries, "try", "tries")
    return f"{queued}, {tried}, the next {hour(mail.next_try_at)}: {apart(mail.answer)}"
