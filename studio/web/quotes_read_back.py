"""The page that reads a quote back before it is made: all that will stand on the paper, and its terms."""

import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from studio.book.order_values import Order
from studio.book.quotes import QuoteDraft, paper_of
from studio.book.variants import FIRST
from studio.craft.directions import apart
from studio.craft.drawing import Svg, state_mark
from studio.craft.pricing import PriceBreakdown
from studio.craft.rates import MetalPrice
from studio.craft.roles import Right
from studio.papers.quote_parts import QuotePaper
from studio.web.amounts import shown_percent
from studio.web.counter_missing import Desk, item_of
from studio.web.counter_page import MissingItem
from studio.web.counter_price import short_money
from studio.web.days import day_words
from studio.web.quotes_made import MadeOf, made_of
from studio.web.quotes_reading import minutes_field
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import counted, opened

_OF_THE_STUDIO = {"rates": "rates", "price of ": "prices", "minutes for ": "minutes-heading"}
"""How each thing begins that the studio has to say, and the part of its page where it does."""


@dataclass(frozen=True, slots=True)
class MinutesField:
    """The planned minutes of one ring, as they stand or as typed for this quote."""

    name: str
    label: str
    value: str
    error: str


@dataclass(frozen=True, slots=True)
class TermsPart:
    """The terms of this quote. `minutes` are asked of those who may see what a ring costs."""

    valid_days: str
    deposit_percent: str
    days_error: str
    percent_error: str
    minutes: tuple[MinutesField, ...]


@dataclass(frozen=True, slots=True)
class ReadBackPage:
    """The page. `paper` is None while the quote waits for something, which `missing` then says.

    `fill_href` is where the first of it is filled in, '' where it is for the owner alone to say.
    """

    title: str
    heading: str
    heading_note: str
    number: str
    mark: Svg
    state: str
    said: Said
    paper: QuotePaper | None
    missing: tuple[MissingItem, ...]
    fill_href: str
    later: tuple[MissingItem, ...]
    stands: str
    stale: tuple[str, ...]
    terms: TermsPart
    made: tuple[MadeOf, ...]
    ring_href: str
    form_key: str

    @property
    def href(self) -> str:
        """Where the order's page stands."""
        return f"/orders/{self.number}"

    @property
    def own_href(self) -> str:
        """Where this page stands with its terms as they were typed."""
        typed = {"valid_days": self.terms.valid_days, "deposit_percent": self.terms.deposit_percent}
        typed |= {one.name: one.value for one in self.terms.minutes}
        return f"{self.href}/read-back?{urlencode(typed)}"


def read_back_page(
    order: Order,
    seat: Seat,
    *,
    draft: QuoteDraft | None,
    missing: tuple[str, ...],
    typed: Mapping[str, str],
    said: Said,
    form_key: str = "",
) -> ReadBackPage:
    """The quote of `order` as it would be made now, with the terms as typed; or what it waits for."""
    count = counted(len(order.rings), "ring", "rings")
    heading = f"{apart(order.customer.name)}, {order.number}"
    deposit = None
    if draft is not None and draft.breakdown.deposit_minor:
        deposit = short_money(draft.breakdown.deposit_minor, draft.breakdown.currency)
    waits_href = f"/studio?for={order.number}" if seat.may(Right.KEEP_RATES) else ""
    desk = Desk(order, 1, deposit=deposit, waits_href=waits_href)
    waiting = tuple(_item(word, desk) for word in missing)
    standing = order.standing_quote
    return ReadBackPage(
        title=f"{said.heading or 'Read back'}: {heading}",
        heading="Read back before sending",
        heading_note=f"{apart(order.customer.name)}, order {order.number}, {count}",
        number=order.number,
        mark=state_mark(order.state),
        state=opened(order.state),
        said=said,
        paper=None if draft is None else paper_of(draft),
        missing=waiting,
        fill_href=next((item.href for item in waiting if item.href), ""),
        later=tuple(_item(word, desk) for word in order.missing.bench),
        stands="" if standing is None else f"Quote {standing.number} stands; the new one takes its place.",
        stale=() if draft is None else tuple(_stale_words(old, seat) for old in draft.stale),
        terms=_terms(order, seat, draft, typed, said),
        made=made_of(_prices(draft), draft.rates) if draft and seat.may(Right.SEE_COST) else (),
        ring_href=f"/orders/{order.number}/rings/1",
        form_key=form_key or secrets.token_urlsafe(18),
    )


def _terms(
    order: Order, seat: Seat, draft: QuoteDraft | None, typed: Mapping[str, str], said: Said
) -> TermsPart:
    prices = {} if draft is None else _prices(draft)
    rates = None if draft is None else draft.rates
    minutes = tuple(
        MinutesField(
            name=(name := minutes_field(place, key)),
            label=", ".join(
                [
                    "Minutes planned",
                    *([f"ring {place}"] if len(order.rings) > 1 else []),
                    *([f"variant {key.upper()}"] if len(prices) > 1 else []),
                ]
            ),
            value=typed.get(name) or str(ring.job.minutes),
            error=said.error(name),
        )
        for key, price in prices.items()
        for place, ring in enumerate(price.rings, 1)
    )
    return TermsPart(
        valid_days=typed.get("valid_days") or ("" if rates is None else str(rates.valid_days)),
        deposit_percent=typed.get("deposit_percent")
        or ("" if rates is None else shown_percent(rates.deposit_percent)),
        days_error=said.error("valid_days"),
        percent_error=said.error("deposit_percent"),
        minutes=minutes if seat.may(Right.SEE_COST) else (),
    )


def _prices(draft: QuoteDraft) -> dict[str, PriceBreakdown]:
    return {FIRST: draft.breakdown, **draft.others}


def _item(word: str, desk: Desk) -> MissingItem:
    """What is missing, with the place where it is filled in: at the counter, or on the studio's page."""
    part = next((part for start, part in _OF_THE_STUDIO.items() if word.startswith(start)), "")
    if part:
        return MissingItem(opened(f"the {word}"), f"{desk.waits_href}#{part}" if desk.waits_href else "")
    found = item_of(word, desk)
    number = desk.order.number if desk.order else ""
    if found.href.startswith("#"):
        return MissingItem(found.words, f"/orders/{number}/rings/1{found.href}")
    return found


def _stale_words(old: MetalPrice, seat: Seat) -> str:
    return f"The price of {old.metal.replace('-', ' ')} is of {day_words(old.on, today=seat.today)}."
