"""Other ways to make an order's rings: begun from its page, changed at the counter, dropped."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.order_values import Order, OrderRing
from studio.book.orders import order as read_order
from studio.book.variants import KEYS, add_variant, drop_variant
from studio.craft.orders import BEFORE_AGREEMENT
from studio.craft.roles import Right
from studio.papers.particulars_words import stones_sentence
from studio.papers.quote_words import ring_sentence
from studio.web.bodies import Typed
from studio.web.counter_again import KEEPS, brought_again
from studio.web.counter_desk import shown
from studio.web.counter_form import CounterForm, flat
from studio.web.counter_keeping import kept
from studio.web.counter_standing import standing_of
from studio.web.counter_stored import ring_form, with_what_is_the_orders
from studio.web.once import do_once
from studio.web.reading import read_id
from studio.web.security import Seat, requires

router = APIRouter()

Taker = Annotated[Seat, requires(Right.TAKE_ORDERS)]


@dataclass(frozen=True, slots=True)
class VariantLine:
    """One way to make the order as its page lists it; the first one is the order's own rings."""

    title: str
    rings: tuple[str, ...]
    change_hrefs: tuple[tuple[str, str], ...] = ()
    drop_href: str = ""


@dataclass(frozen=True, slots=True)
class VariantsPart:
    """The ways offered on the next quote, and whether there is room for one more."""

    lines: tuple[VariantLine, ...]
    may_add: bool


def variants_part(order: Order, seat: Seat) -> VariantsPart | None:
    """What the order's page says of other ways; None from the yes on and for who takes no orders."""
    if order.state not in BEFORE_AGREEMENT or not seat.may(Right.TAKE_ORDERS):
        return None
    lines = [VariantLine("A, these rings" if len(order.rings) > 1 else "A, this ring", _said(order.rings))]
    for one in order.variants:
        start = f"/orders/{order.number}/variants/{one.key}"
        several = len(one.rings) > 1
        hrefs = tuple(
            link
            for ring in one.rings
            for which in [f" ring {ring.position}" if several else ""]
            for link in (
                (f"change{which}", f"{start}/rings/{ring.position}"),
                (
                    f"figures{' of' if which else ''}{which}",
                    f"/orders/{order.number}/rings/{ring.position}/came-about?variant={one.key}",
                ),
            )
        )
        lines.append(VariantLine(one.key.upper(), _said(one.rings), hrefs, f"{start}/end"))
    return VariantsPart(tuple(lines) if order.variants else (), len(order.variants) < len(KEYS))


@router.post("/orders/{number}/variants")
def begin(request: Request, seat: Taker, number: str, typed: Typed) -> Response:
    """Begin one more way to make the order, as its own rings are, and lead to the counter to change it."""

    def work(book: Session) -> Answer:
        before = read_id(typed.get("version"), "version")
        taken = {one.key for one in read_order(book, number).variants}
        done = add_variant(book, number=number, version=before, actor=seat.actor, now=seat.now)
        key = next(one.key for one in done.variants if one.key not in taken)
        return Answer(303, "", f"/orders/{number}/variants/{key}/rings/1")

    return _once(request, seat, typed, work)


@router.post("/orders/{number}/variants/{key}/end")
def end(request: Request, seat: Taker, number: str, key: str, typed: Typed) -> Response:
    """Offer this way no longer."""

    def work(book: Session) -> Answer:
        before = read_id(typed.get("version"), "version")
        drop_variant(book, number=number, key=key, version=before, actor=seat.actor, now=seat.now)
        return Answer(303, "", f"/orders/{number}#variants")

    return _once(request, seat, typed, work)


@router.get("/orders/{number}/variants/{key}/rings/{position}")
def variant_ring(request: Request, seat: Taker, number: str, key: str, position: str) -> Response:
    """The counter's page for one ring as this way makes it."""
    with session(seat.engine) as book:
        standing = standing_of(book, number, position, key)
    return shown(request, seat, ring_form(standing.order, standing.ring, seat.zone), standing)


@router.post("/orders/{number}/variants/{key}/rings/{position}")
def change_variant_ring(
    request: Request, seat: Taker, *, number: str, key: str, position: str, fields: Typed
) -> Response:
    """Keep the ring of this way, or bring the page again."""
    form = CounterForm(flat(fields))
    with session(seat.engine) as book:
        standing = standing_of(book, number, position, key)
    form = with_what_is_the_orders(form, standing, seat.zone)
    if form.value("act") not in KEEPS:
        return brought_again(request, seat, form, standing)
    return kept(request, seat, form, standing)


def _once(
    request: Request, seat: Seat, typed: dict[str, object], work: Callable[[Session], Answer]
) -> Response:
    with session(seat.engine) as book:
        return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))


def _said(rings: tuple[OrderRing, ...]) -> tuple[str, ...]:
    return tuple(
        " ".join(
            part
            for part in (ring_sentence(ring.reckoning), stones_sentence(ring.particulars.stones or ()))
            if part
        )
        for ring in rings
    )
