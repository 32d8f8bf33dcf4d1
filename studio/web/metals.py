"""Metal for metal: the same ring in every alloy, side by side."""

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.live_price import LivePrice, prices_of_each
from studio.book.ring_practices import workshop
from studio.craft.hallmark import ASK, HallmarkRule, foresight
from studio.craft.metal_for_metal import in_every_metal
from studio.craft.reckonings import Reckoning
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.counter_desk import calendar_of
from studio.web.counter_form import CounterForm, read_counter_ring
from studio.web.counter_price import awaited
from studio.web.counter_standing import standing_of
from studio.web.errors import Declined
from studio.web.order_words import size_of
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.wording import opened, stock_words

router = APIRouter()


@dataclass(frozen=True, slots=True)
class MetalLine:
    """The ring in one alloy. Prices are '' for who may not see them, or say what they wait for."""

    metal: str
    name: str
    fineness: str
    blank_g: str
    finished_g: str
    hallmark: str
    price: str
    difference: str
    is_chosen: bool
    goes_on: bool


@dataclass(frozen=True, slots=True)
class MetalsPage:
    """The page: the ring in one sentence, and a line for each alloy."""

    title: str
    heading: str
    ring: str
    lines: tuple[MetalLine, ...]
    shows_price: bool
    back_href: str
    back: str
    note: str


@router.get("/orders/{number}/rings/{position}/metals")
def of_ring(
    request: Request, seat: Annotated[Seat, requires(Right.SEE_ORDERS)], number: str, position: str
) -> HTMLResponse:
    """A ring of an order in every metal, by the practice it is reckoned with."""
    with session(seat.engine) as book:
        standing = standing_of(book, number, position)
        if standing.ring is None:
            raise Declined(404, f"Order {standing.order.number} has no such ring.")
        reckoning = standing.ring.reckoning
        lines = _lines(book, seat, reckoning)
    return _page(request, seat, reckoning, lines, standing.order.number)


@router.get("/counter/metals")
def of_counter(request: Request, seat: Annotated[Seat, requires(Right.RECKON)]) -> HTMLResponse:
    """The ring that is being typed at the counter, in every metal. Its fields stand in the address."""
    form = CounterForm(dict(request.query_params))
    with session(seat.engine) as book:
        reckoning = read_counter_ring(form, calendar_of(seat), workshop(book, seat.today)).reckoning
        if reckoning is None:
            raise Declined(404, "There is no whole ring to compare yet.")
        lines = _lines(book, seat, reckoning)
    return _page(request, seat, reckoning, lines, "")


def _lines(book: Session, seat: Seat, chosen: Reckoning) -> tuple[MetalLine, ...]:
    """The ring in every alloy, with today's price of each for who may see it."""
    rings = in_every_metal(chosen.finger, chosen.design, chosen.practice)
    prices: tuple[LivePrice | None, ...] = (None,) * len(rings)
    if seat.may(Right.SEE_PRICE):
        prices = prices_of_each(book, rings, day=seat.today)
    own = next(
        (
            price.breakdown.total_minor
            for ring, price in zip(rings, prices, strict=True)
            if price and price.breakdown and ring.design.alloy == chosen.design.alloy
        ),
        None,
    )
    nexts = [*rings[1:], None]
    return tuple(
        _line(ring, price, own, chosen, rule=seat.rule, after=after)
        for ring, price, after in zip(rings, prices, nexts, strict=True)
    )


def _line(
    ring: Reckoning,
    price: LivePrice | None,
    own_minor: int | None,
    chosen: Reckoning,
    *,
    rule: HallmarkRule,
    after: Reckoning | None,
) -> MetalLine:
    alloy = ring.alloy
    foreseen = foresight(ring, rule)
    words, difference = _price_words(price, own_minor)
    is_chosen = ring.design.alloy == chosen.design.alloy
    return MetalLine(
        metal=str(alloy.metal),
        name=opened(alloy.name),
        fineness=str(alloy.fineness) if alloy.is_precious else "–",
        blank_g=f"{ring.blank_g:.2f}",
        finished_g=f"{ring.finished_g:.2f}",
        hallmark=str(foreseen.verdict) if foreseen else "none",
        price=words,
        difference="chosen" if is_chosen else difference,
        is_chosen=is_chosen,
        goes_on=after is not None and after.alloy.metal is alloy.metal,
    )


def _price_words(price: LivePrice | None, own_minor: int | None) -> tuple[str, str]:
    """The price with tax and how far it lies from the chosen metal's; what it waits for, where it does."""
    if price is None:
        return "", ""
    if price.breakdown is None:
        return f"waits {awaited(price.missing)}", ""
    total, currency = price.breakdown.total_minor, price.breakdown.currency
    if own_minor is None:
        return money_words(total, currency), ""
    more = total - own_minor
    sign = "+" if more > 0 else "\N{MINUS SIGN}" if more < 0 else ""
    return money_words(total, currency), f"{sign}{money_words(abs(more), currency)}"


def _page(
    request: Request, seat: Seat, reckoning: Reckoning, lines: tuple[MetalLine, ...], order: str
) -> HTMLResponse:
    design = reckoning.design
    what = stock_words(design.profile, design.width_mm, design.thickness_mm)
    context = MetalsPage(
        title=f"In other metals, {order}" if order else "In other metals",
        heading="In other metals",
        ring=f"{opened(what)} mm, {size_of(reckoning.finger)}, "
        f"{reckoning.alloy.name}; the mark is {reckoning.mark_mm:.1f} mm in every metal.",
        lines=lines,
        shows_price=seat.may(Right.SEE_PRICE),
        back_href=f"/orders/{order}" if order else "",
        back=f"Order {order}" if order else "",
        note=ASK,
    )
    return page(request, "metals/page.html", context, place=Place.ORDERS)
