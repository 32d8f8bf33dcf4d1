"""The quotes of an order on its page: every revision, and the yes."""

from dataclasses import dataclass

from studio.book.order_values import Order
from studio.book.quotes import Agreement, Quote, QuoteState
from studio.book.reminders import to_remind_of
from studio.craft.orders import AMENDABLE, BEFORE_AGREEMENT, State
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.days import day_words
from studio.web.quotes_page import agreed_words, state_word
from studio.web.security import Seat


@dataclass(frozen=True, slots=True)
class QuoteLineShown:
    """One quote of the order; `note` is until when it is good, `is_over` that it no longer stands."""

    number: str
    href: str
    total: str
    state: str
    note: str
    is_over: bool
    is_hand: bool


@dataclass(frozen=True, slots=True)
class AmendAct:
    """How what was agreed is amended: begun by a button, or gone on with by a link (`href`)."""

    words: str
    href: str


@dataclass(frozen=True, slots=True)
class QuoteAct:
    """A link to what can be done: the read-back, the quote's form for the yes, a reminder."""

    words: str
    href: str


@dataclass(frozen=True, slots=True)
class QuotesPart:
    """What the page says of quotes, for those who may see a price."""

    lines: tuple[QuoteLineShown, ...]
    agreed: str
    amend: AmendAct | None
    reminders: tuple[QuoteAct, ...]


def quotes_part(order: Order, seat: Seat) -> QuotesPart | None:
    """The quotes of the order, the newest first; None where there are none, or none for this person."""
    if not seat.may(Right.SEE_PRICE) or not (order.quotes or order.agreement):
        return None
    agreement = order.agreement
    return QuotesPart(
        lines=tuple(_line(quote, agreement, seat) for quote in reversed(order.quotes)),
        agreed="" if agreement is None else agreed_words(agreement, seat),
        amend=_amend(order, seat),
        reminders=_reminders(order, seat),
    )


def _reminders(order: Order, seat: Seat) -> tuple[QuoteAct, ...]:
    """The ways to remind the customer of what the order waits for."""
    if not seat.may(Right.QUOTE):
        return ()
    return tuple(
        QuoteAct(f"Remind of the {about}", f"/orders/{order.number}/reminders/{about}")
        for about in to_remind_of(order)
    )


def _amend(order: Order, seat: Seat) -> AmendAct | None:
    if order.state not in AMENDABLE or order.agreement is None or not seat.may(Right.QUOTE):
        return None
    if order.amending is not None:
        return AmendAct("Go on with the amendment", f"/orders/{order.number}/amendment")
    return AmendAct("Amend what was agreed", "")


def quote_acts(order: Order, seat: Seat) -> tuple[QuoteAct, ...]:
    """What comes next before the yes, the main one first: the yes to the quote that stands, reading back."""
    if order.state not in BEFORE_AGREEMENT:
        return ()
    standing = order.standing_quote
    acts = []
    if order.state is State.QUOTED and standing is not None and seat.may(Right.AGREE):
        acts.append(QuoteAct("Note the yes", f"/quotes/{standing.number}#yes"))
    if seat.may(Right.QUOTE):
        words = "Read back and quote again" if standing is not None else "Read back and quote"
        acts.append(QuoteAct(words, f"/orders/{order.number}/read-back"))
    return tuple(acts)


def _total_words(quote: Quote, agreement: Agreement | None) -> str:
    """What it comes to; of a choice what was chosen, or from the least to the most."""
    if agreement is not None and agreement.quote_number == quote.number:
        return money_words(agreement.total_minor, quote.currency)
    totals = sorted({one.total_minor for one in quote.variants} or {quote.total_minor})
    return " to ".join(money_words(minor, quote.currency) for minor in (totals[0], *totals[1:][-1:]))


def _line(quote: Quote, agreement: Agreement | None, seat: Seat) -> QuoteLineShown:
    until = day_words(quote.valid_until, today=seat.today)
    is_open = quote.state is QuoteState.OPEN
    has_ended = is_open and quote.has_expired(seat.now)
    note = f"was good until {until}" if has_ended else f"good until {until}"
    return QuoteLineShown(
        number=quote.number,
        href=f"/quotes/{quote.number}",
        total=_total_words(quote, agreement),
        state=state_word(quote, seat),
        note=note if is_open else f"made {day_words(quote.issued_at.date(), today=seat.today)}",
        is_over=quote.state is QuoteState.SUPERSEDED,
        is_hand=has_ended,
    )
