"""When metal moves: open quotes beside today's price, metal promised and not bought, the price over time."""

import re
import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.errors import BookBusy, MoveRefused, NotQuotable
from studio.book.idempotency import Answer
from studio.book.metal_aside import metal_aside
from studio.book.metal_moves import (
    MovedQuote,
    MovedWay,
    PromisedMetal,
    moved_quotes,
    price_over_time,
    promised_metal,
)
from studio.book.practices import practice_on
from studio.book.quotes import Quote, requotable
from studio.book.studio import currency_of
from studio.craft.directions import apart
from studio.craft.drawing import Svg, price_line
from studio.craft.metals import PRECIOUS
from studio.craft.money import minor_digits, to_minor
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.days import day_words, full_day_words
from studio.web.errors import Declined
from studio.web.issuing import issued_by
from studio.web.metal_aside import AsideLine, aside_lines
from studio.web.render import Place, page
from studio.web.security import Seat, requires

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_PRICE)]
_METAL = re.compile(r"[a-z-]{1,40}")
_WIDE, _NARROW = 620.0, 288.0
"""The two cuts of the line, in px: on a desk, and on the smallest phone."""


Prices = tuple[tuple[date, Decimal], ...]
"""A gram's price from each day on, the first day first."""


@dataclass(frozen=True, slots=True)
class WayMoved:
    """One way of a quote: what it says, what it would say today, and the words of the difference.

    `name` is 'Variant B', empty without a choice.
    """

    name: str
    then: str
    now: str
    difference: str
    is_more: bool


@dataclass(frozen=True, slots=True)
class QuoteMoved:
    """One open quote with its ways to choose from; one way without a choice."""

    number: str
    href: str
    whose: str
    until: str
    has_ended: bool
    ways: tuple[WayMoved, ...]
    again_href: str


@dataclass(frozen=True, slots=True)
class MetalPromised:
    """One alloy that is promised; money for those who may see a cost."""

    name: str
    rings: str
    issue: str
    aside: str
    to_buy: str
    quoted: str
    now: str


@dataclass(frozen=True, slots=True)
class PriceRow:
    """One day of the price, for the table beside the line; `quotes` are the open ones made by it."""

    day: str
    gram: str
    quotes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MovesPage:
    """The page. `line` and `narrow` are None where no price of the metal is known."""

    quotes: tuple[QuoteMoved, ...]
    promised: tuple[MetalPromised, ...]
    aside: tuple[AsideLine, ...]
    sees_cost: bool
    metals: tuple[tuple[str, str, bool], ...]
    metal: str
    line: Svg | None
    narrow: Svg | None
    prices: tuple[PriceRow, ...]
    form_key: str
    title: str = "When metal moves"


@router.get("/metal/moves", response_class=HTMLResponse)
def moves(request: Request, seat: Looks, metal: str = "") -> Response:
    """The page; `?metal=silver` chooses whose price is drawn."""
    precious = sorted(str(one) for one in PRECIOUS)
    chosen = metal if _METAL.fullmatch(metal) and metal in precious else "gold"
    with session(seat.engine) as book:
        quotes = moved_quotes(book, now=seat.now)
        alloys = practice_on(book, seat.today).alloys
        promised = promised_metal(book, alloys=alloys, now=seat.now)
        prices = price_over_time(book, chosen)
        currency = currency_of(book)
        aside = aside_lines(metal_aside(book), alloys, currency, seat)
    made_by_it = tuple(one for one in quotes if chosen in one.metals)
    context = MovesPage(
        quotes=tuple(_quote(one, seat) for one in quotes),
        promised=tuple(_promised(one, currency) for one in promised),
        aside=aside,
        sees_cost=seat.may(Right.SEE_COST),
        metals=tuple((one, f"/metal/moves?metal={one}", one == chosen) for one in precious),
        metal=chosen,
        line=_line(prices, made_by_it, seat, metal=chosen, currency=currency, width=_WIDE),
        narrow=_line(prices, made_by_it, seat, metal=chosen, currency=currency, width=_NARROW),
        prices=_price_rows(prices, made_by_it, seat, currency),
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "metal_moves/page.html", context, place=Place.METAL)


@router.post("/orders/{number}/requote", response_class=HTMLResponse)
async def requote(
    request: Request, number: str, typed: Typed, seat: Annotated[Seat, requires(Right.QUOTE)]
) -> Response:
    """Make the open quote of an order anew at today's metal prices, and lead to its page."""

    def made(found: Quote) -> Answer:
        return Answer(303, "", f"/quotes/{found.number}")

    try:
        return await issued_by(
            request,
            seat,
            number,
            lambda book: requotable(book, number, now=seat.now),
            made,
            form_key=typed.get("idempotency_key"),
        )
    except (NotQuotable, MoveRefused, BookBusy) as refused:
        why = declined(refused)
        raise Declined(why.status_code, why.errors[0].message) from refused


def _quote(one: MovedQuote, seat: Seat) -> QuoteMoved:
    has_choice = len(one.ways) > 1
    return QuoteMoved(
        number=one.number,
        href=f"/quotes/{one.number}",
        whose=apart(one.customer),
        until=day_words(one.valid_until, today=seat.today),
        has_ended=one.has_ended,
        ways=tuple(_way(way, one, f"Variant {way.key.upper()}" if has_choice else "") for way in one.ways),
        again_href=f"/orders/{one.order_number}/requote" if one.has_moved and seat.may(Right.QUOTE) else "",
    )


def _way(way: MovedWay, quote: MovedQuote, name: str) -> WayMoved:
    more = way.difference_minor
    words = "" if more is None else "the same"
    if more:
        words = f"{money_words(abs(more), quote.currency)} {'more' if more > 0 else 'less'}"
    return WayMoved(
        name=name,
        then=money_words(way.total_minor, quote.currency),
        now=f"waits for {', '.join(quote.missing)}"
        if way.now_minor is None
        else money_words(way.now_minor, quote.currency),
        difference=words,
        is_more=bool(more and more > 0),
    )


def _promised(one: PromisedMetal, currency: str) -> MetalPromised:
    found = one.promised

    def grams(mass_mg: int) -> str:
        return f"{mass_mg / 1000:.2f}"

    return MetalPromised(
        name=one.alloy_name,
        rings=str(found.rings),
        issue=grams(found.issue_mg),
        aside=grams(found.aside_mg),
        to_buy=grams(found.to_buy_mg),
        quoted="not known" if found.quoted_minor is None else money_words(found.quoted_minor, currency),
        now="no price" if one.now_minor is None else money_words(one.now_minor, currency),
    )


def _line(
    prices: Prices, quotes: Sequence[MovedQuote], seat: Seat, *, metal: str, currency: str, width: float
) -> Svg | None:
    if not prices:
        return None
    values = [value for _, value in prices]
    low, high = _gram(min(values), currency), _gram(max(values), currency)
    since = full_day_words(prices[0][0])
    label = f"The price of a gram of {metal} from {since} to today, between {low} and {high}"
    return price_line(
        prices,
        [one.issued_on for one in quotes],
        until=seat.today,
        width=width,
        label=f"{label}, today {_gram(values[-1], currency)}",
        money=lambda value: _gram(value, currency),
        day=lambda day: day_words(day, today=seat.today).partition(" ")[2],
    )


def _price_rows(
    prices: Prices, quotes: Sequence[MovedQuote], seat: Seat, currency: str
) -> tuple[PriceRow, ...]:
    """What the line shows, the latest first: each price from its day on, with the quotes made by it."""
    if not prices:
        return ()
    ends = [*(day for day, _ in prices[1:]), date.max]
    rows = [
        PriceRow(
            full_day_words(day),
            _gram(value, currency),
            tuple(
                f"{one.number}, {day_words(one.issued_on, today=seat.today)}"
                for one in quotes
                if day <= one.issued_on < end
            ),
        )
        for (day, value), end in zip(prices, ends, strict=True)
    ]
    return tuple(reversed(rows))


def _gram(value: Decimal, currency: str) -> str:
    """A price of a gram to the minor unit, in words."""
    return money_words(to_minor(round(value, minor_digits(currency)), currency), currency)
