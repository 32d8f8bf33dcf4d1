"""The quotes of an order on its page: every revision, the yes, and how it stands with the deposit."""

from dataclasses import dataclass

from studio.book.order_values import Order
from studio.book.outbox_values import About
from studio.book.quotes import Agreement, Quote, QuoteState
from studio.book.reminders import OWES_DEPOSIT
from studio.craft.missing import Deposit
from studio.craft.money import from_minor
from studio.craft.orders import AMENDABLE, BEFORE_AGREEMENT, State
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.amounts import currency_sign
from studio.web.days import day_words
from studio.web.quotes_page import agreed_words, deposit_words, state_word
from studio.web.security import Seat
from studio.web.sent_back import Said


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
class DepositForm:
    """The form that notes what was paid, and why the work begins without all of it, as both stand so far.

    `is_open` while the deposit is.
    """

    deposit: str
    without_deposit: str
    sign: str
    is_open: bool
    summary: str


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
    """What the page says of quotes and money, for those who may see a price."""

    lines: tuple[QuoteLineShown, ...]
    agreed: str
    deposit: str
    balance: str
    deposit_is_open: bool
    form: DepositForm | None
    amend: AmendAct | None
    reminders: tuple[QuoteAct, ...]


def quotes_part(order: Order, seat: Seat, said: Said) -> QuotesPart | None:
    """The quotes of the order, the newest first; None where there are none, or none for this person."""
    if not seat.may(Right.SEE_PRICE) or not (order.quotes or order.agreement):
        return None
    agreement = order.agreement
    form = None
    if agreement is not None and seat.may(Right.AGREE) and order.state is not State.CALLED_OFF:
        is_open = agreement.deposit is Deposit.OPEN
        form = DepositForm(
            deposit=said.typed.get("deposit", _paid_typed(agreement)),
            without_deposit=said.typed.get("without_deposit", agreement.without_deposit or ""),
            sign=currency_sign(agreement.currency),
            is_open=is_open or bool(said.error("deposit") or said.error("without_deposit")),
            summary="Note the deposit" if is_open else "Put the deposit right",
        )
    return QuotesPart(
        lines=tuple(_line(quote, agreement, seat) for quote in reversed(order.quotes)),
        agreed="" if agreement is None else agreed_words(agreement, seat),
        deposit="" if agreement is None else _deposit_words(agreement, seat),
        balance="" if agreement is None else _balance_words(order, agreement),
        deposit_is_open=agreement is not None and agreement.deposit is Deposit.OPEN,
        form=form,
        amend=_amend(order, seat),
        reminders=_reminders(order, seat),
    )


def _reminders(order: Order, seat: Seat) -> tuple[QuoteAct, ...]:
    """The ways to remind the customer of what the order waits for."""
    if not seat.may(Right.QUOTE):
        return ()
    agreement = order.agreement
    due = []
    if any(quote.state is QuoteState.OPEN for quote in order.quotes) and order.state in {
        State.QUOTED,
        *AMENDABLE,
    }:
        due.append(About.QUOTE)
    if agreement is not None and order.state in OWES_DEPOSIT and agreement.deposit is Deposit.OPEN:
        due.append(About.DEPOSIT)
    if agreement is not None and order.state is State.READY and _left_minor(agreement) > 0:
        due.append(About.BALANCE)
    return tuple(
        QuoteAct(f"Remind of the {about}", f"/orders/{order.number}/reminders/{about}") for about in due
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


def _deposit_words(agreement: Agreement, seat: Seat) -> str:
    """How it stands with the deposit; after a part payment also the reason to begin without the rest."""
    if not agreement.is_part_paid:
        return deposit_words(agreement, seat)
    why = agreement.without_deposit
    rest = f"Begins without the rest: {why.removesuffix('.')}." if why else "The rest is open."
    return f"Part paid. {deposit_words(agreement, seat)} {rest}"


def _left_minor(agreement: Agreement) -> int:
    """The price less what was paid; below 0 where an amendment came to less than that."""
    return agreement.total_minor - (agreement.deposit_minor or 0)


def _balance_words(order: Order, agreement: Agreement) -> str:
    """'Balance at collection £144.00', once something of the price is still to be paid.

    'To give back £20.00' where an amendment came to less than was paid.
    """
    if order.state in {State.HANDED_OVER, State.CALLED_OFF}:
        return ""
    left = _left_minor(agreement)
    if left < 0:
        return f"To give back {money_words(-left, agreement.currency)}."
    return f"Balance at collection {money_words(left, agreement.currency)}." if left else ""


def _paid_typed(agreement: Agreement) -> str:
    """What was paid as it would be typed, '50.00'; '' where nothing was."""
    if agreement.deposit_minor is None:
        return ""
    return str(from_minor(agreement.deposit_minor, agreement.currency))


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
