"""What a quote's page shows: what stands on it, how it left, and the yes to it."""

import secrets
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from studio.book.answer_links import Answer
from studio.book.order_values import Order
from studio.book.quotes import Agreement, Quote, QuoteKind, QuoteState, Sending, SentHow
from studio.craft.directions import apart
from studio.craft.drawing import Svg, state_mark
from studio.craft.missing import Deposit
from studio.craft.orders import AMENDABLE, State
from studio.craft.payments import Method
from studio.craft.pricing import PriceBreakdown
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.papers.quote_parts import QuotePaper
from studio.web.amounts import currency_sign
from studio.web.counter_choices import Choice
from studio.web.days import day_words
from studio.web.quote_links import LinkPart, link_part
from studio.web.quote_mails import MailsPart, mails_part
from studio.web.quotes_made import MadeOf, made_of
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import hour_words, opened

_HOW = {
    SentHow.BY_HAND: "By hand",
    SentHow.MAIL: "By e-mail",
    SentHow.POST: "By post",
    SentHow.MESSAGE: "By message",
}


@dataclass(frozen=True, slots=True)
class YesPart:
    """The form for the yes. `is_late` asks why a quote that has run out is let through.

    `variants` are the ways to choose from; none where there is no choice. An amendment `asks_deposit` not:
    what was paid stays paid.
    """

    name: str
    deposit: str
    deposit_how: str
    methods: tuple[Choice, ...]
    without_deposit: str
    reason: str
    is_late: bool
    deposit_note: str
    sign: str
    asks_deposit: bool = True
    variant: str = ""
    variants: tuple[Choice, ...] = ()


@dataclass(frozen=True, slots=True)
class SentPart:
    """How the quote left the studio, and the form to note it; `how` is chosen, `choices` what there is."""

    lines: tuple[str, ...]
    how: str
    to: str
    choices: tuple[Choice, ...]
    may_note: bool


@dataclass(frozen=True, slots=True)
class QuotePage:
    """The page of one quote. `hand` is the word in pencil where it no longer stands or has run out.

    `withdraw_href` takes an amendment back that waits for its answer, '' for anything else.
    """

    title: str
    number: str
    order_number: str
    heading: str
    heading_note: str
    mark: Svg
    state: str
    hand: str
    stands: str
    other_href: str
    other_words: str
    paper: QuotePaper
    sent: SentPart
    yes: YesPart | None
    made: tuple[MadeOf, ...]
    said: Said
    form_key: str
    withdraw_href: str
    may_write: bool
    link: LinkPart | None
    mails: MailsPart | None

    @property
    def href(self) -> str:
        """Where the page stands."""
        return f"/quotes/{self.number}"

    @property
    def order_href(self) -> str:
        """Where the order's page stands."""
        return f"/orders/{self.order_number}"


def quote_page(
    quote: Quote,
    order: Order,
    paper: QuotePaper,
    seat: Seat,
    *,
    breakdowns: Mapping[str, PriceBreakdown] | None,
    answers: Sequence[Answer] = (),
    fresh_link: str = "",
    fresh_words: str = "",
    said: Said | None = None,
    has_mail: bool = False,
) -> QuotePage:
    """The quote as its page shows it to who sits there; `said` brings back what was typed and why.

    `has_mail` says that there is a mail server to hand letters to.
    """
    told = said or Said()
    heading = f"{paper.kind} {quote.number}, {apart(order.customer.name)}"
    hand, stands = standing_words(quote, order, seat)
    other = order.standing_quote
    is_amendment = quote.kind is QuoteKind.AMENDMENT
    is_other = other is not None and other.number != quote.number and quote.state is QuoteState.SUPERSEDED
    waits_in = AMENDABLE if is_amendment else {State.QUOTED}
    asks = quote.state is QuoteState.OPEN and order.state in waits_in and seat.may(Right.AGREE)
    return QuotePage(
        title=f"{told.heading}: {heading}" if told.heading else heading,
        number=quote.number,
        order_number=order.number,
        heading=f"{paper.kind} {quote.number}",
        heading_note=f"for {apart(order.customer.name)}, order {order.number}",
        mark=state_mark(_mark_of(quote, order)),
        state=state_word(quote, seat),
        hand=hand,
        stands=stands,
        other_href=f"/quotes/{other.number}" if other is not None and is_other else "",
        other_words=f"{other.number} stands in its place" if other is not None and is_other else "",
        paper=paper,
        sent=_sent(quote, order, seat, told),
        yes=_yes(quote, order, seat, told) if asks else None,
        made=made_of(breakdowns or {}),
        said=told,
        form_key=secrets.token_urlsafe(18),
        withdraw_href=f"/quotes/{quote.number}/withdrawal"
        if is_amendment and quote.state is QuoteState.OPEN and seat.may(Right.QUOTE)
        else "",
        link=link_part(quote, seat, answers, fresh_link, fresh_words, can_answer=asks),
        may_write=seat.may(Right.QUOTE) and _can_go(quote, seat),
        mails=mails_part(
            quote,
            order,
            seat,
            told,
            own_address=paper.studio.email,
            can_go=has_mail and _can_go(quote, seat),
        ),
    )


def _can_go(quote: Quote, seat: Seat) -> bool:
    """Whether a letter can still take the quote to the customer."""
    if quote.state is QuoteState.OPEN:
        return not quote.has_expired(seat.now)
    return quote.state is QuoteState.AGREED


def state_word(quote: Quote, seat: Seat) -> str:
    """How it stands with a quote, in a word or two."""
    if quote.state is QuoteState.OPEN:
        return "Ended" if quote.has_expired(seat.now) else "Waits for the answer"
    return {QuoteState.AGREED: "Agreed", QuoteState.SUPERSEDED: "Superseded"}[quote.state]


def standing_words(quote: Quote, order: Order, seat: Seat) -> tuple[str, str]:
    """The word in pencil, '' while all is well, and the sentence: good until when, agreed by whom."""
    until = day_words(quote.valid_until, today=seat.today)
    if quote.state is QuoteState.SUPERSEDED:
        when = "" if quote.superseded_at is None else hour_words(quote.superseded_at, seat.zone, seat.today)
        return "Superseded", f"It no longer stands, since {when}."
    if quote.state is QuoteState.AGREED:
        return "", agreed_words(order.agreement, seat)
    if quote.has_expired(seat.now):
        return "Ended", f"It was good until {until}. A yes to it wants a reason; or make a new one."
    return "", f"Good until the end of {until}."


def agreed_words(agreement: Agreement | None, seat: Seat) -> str:
    """'Oda Fenwright said yes, Wed 25 Nov, 14:05, noted by Ivo.' with why, where it was late."""
    if agreement is None:
        return "The yes to it was taken back."
    when = hour_words(agreement.agreed_at, seat.zone, seat.today)
    why = f" It had run out: {agreement.reason}" if agreement.reason else ""
    to = f" to variant {agreement.variant.upper()}" if agreement.variant else ""
    return f"{apart(agreement.name)} said yes{to}, {when}, noted by {agreement.noted_by}.{why}"


def deposit_words(agreement: Agreement, seat: Seat) -> str:
    """How it stands with the deposit, and who let the work begin without it.

    'Deposit of £672.00 paid.', 'Deposit of £50.00 of £672.00 asked paid.'
    """
    asked = money_words(agreement.deposit_asked_minor, agreement.currency)
    why = (agreement.without_deposit or "").removesuffix(".")
    if 0 < agreement.deposit_asked_minor <= agreement.paid_minor:
        return f"Deposit of {asked} paid."
    if agreement.paid_minor > 0 and agreement.deposit_asked_minor:
        paid = money_words(agreement.paid_minor, agreement.currency)
        return f"Deposit of {paid} of {asked} asked paid.{f' Begins all the same: {why}.' if why else ''}"
    if why:
        by = ""
        if agreement.waived_at is not None:
            when = hour_words(agreement.waived_at, seat.zone, seat.today)
            by = f", {when}, noted by {agreement.waived_by}"
        return f"Begins without a deposit: {why}{by}."
    if agreement.deposit is Deposit.OPEN:
        return f"Deposit of {asked} open."
    return "No deposit was asked for."


def _mark_of(quote: Quote, order: Order) -> State:
    """The drawn mark beside the quote's word."""
    if quote.state is QuoteState.AGREED:
        return order.state
    return State.CALLED_OFF if quote.state is QuoteState.SUPERSEDED else State.QUOTED


def _sent(quote: Quote, order: Order, seat: Seat, said: Said) -> SentPart:
    mail = order.customer.email or ""
    return SentPart(
        lines=tuple(_sending_words(one, seat) for one in quote.sendings),
        how=said.typed.get("how", SentHow.MAIL if mail else SentHow.BY_HAND),
        to=said.typed.get("to", mail or order.customer.name),
        choices=tuple(Choice(how, words) for how, words in _HOW.items()),
        may_note=seat.may(Right.QUOTE) and quote.state is QuoteState.OPEN,
    )


def _sending_words(one: Sending, seat: Seat) -> str:
    to = f" to {one.sent_to}" if one.sent_to else ""
    return f"{opened(_HOW[one.how])}{to}, {hour_words(one.at, seat.zone, seat.today)}, {one.actor}"


def _yes(quote: Quote, order: Order, seat: Seat, said: Said) -> YesPart:
    note = "The quote asks for no deposit."
    offered = quote.variants
    if quote.deposit_minor:
        asked = " or ".join(
            dict.fromkeys(money_words(one.deposit_minor, quote.currency) for one in offered or (quote,))
        )
        note = f"Asked: {asked}. Leave both empty and it stays open; the bench then waits for it."
    return YesPart(
        name=said.typed.get("name", order.customer.name),
        deposit=said.typed.get("deposit", ""),
        deposit_how=said.typed.get("deposit_how", Method.NOT_SAID),
        methods=tuple(Choice(method, method.capitalize()) for method in Method),
        without_deposit=said.typed.get("without_deposit", ""),
        reason=said.typed.get("reason", ""),
        is_late=quote.has_expired(seat.now),
        deposit_note=note,
        sign=currency_sign(quote.currency),
        asks_deposit=quote.kind is QuoteKind.QUOTE,
        variant=said.typed.get("variant", ""),
        variants=tuple(
            Choice(one.key, f"{one.key.upper()}, {money_words(one.total_minor, quote.currency)}")
            for one in offered
        ),
    )
