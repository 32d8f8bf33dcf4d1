"""Handing an order over: a page of its own, what was made put right, goods given back, the sheet made."""

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.as_made import known_of
from studio.book.engine import session
from studio.book.hand_over import good_field, hand_over
from studio.book.making_errors import NotToHandOver
from studio.book.making_values import GoodEnd, GoodGiven, HandingOver, RingGiven
from studio.book.order_reads import order as read_order
from studio.book.order_values import Order, OrderRing
from studio.book.whereabouts_errors import ThingOut
from studio.craft.as_made import LONGEST_LOT, WEIGHT_G
from studio.craft.designs import Limits
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.craft.sizes import ReadSize
from studio.craft.units import to_milligrams
from studio.web.bench_record import read_inside
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.hand_over_page import goods_texts, hand_over_context, hand_over_words, ring_texts
from studio.web.keeping import keep
from studio.web.order import version_of
from studio.web.reading import Reading
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text

router = APIRouter()

HandsOver = Annotated[Seat, requires(Right.HAND_OVER)]
_BACK_G = Limits(0.0, 10_000.0)
_NOTHING = Said()


@router.get("/orders/{number}/hand-over", response_class=HTMLResponse)
def shown(request: Request, seat: HandsOver, number: str) -> HTMLResponse:
    """What is known of each ring, what is held of the customer's, and what is left to pay."""
    return _page(request, seat, number)


@router.post("/orders/{number}/hand-over", response_class=HTMLResponse)
def put(request: Request, seat: HandsOver, number: str, typed: Typed) -> Response:
    """Hand it over; the sheet stands with the order's papers."""
    with session(seat.engine) as book:
        standing = read_order(book, number)
    words = hand_over_words(standing)

    def work(book: Session) -> None:
        found = read_order(book, number)
        hand_over(
            book,
            number=number,
            version=version_of(typed),
            asked=read_handing_over(typed, found),
            actor=seat.actor,
            now=seat.now,
        )

    def stands(book: Session) -> dict[str, str]:
        found = read_order(book, number)
        return ring_texts(known_of(book, found)) | goods_texts(found)

    try:
        return keep(
            request,
            seat,
            typed,
            texts=typed_texts(typed, *words),
            words=words,
            href=f"/orders/{number}#papers",
            work=work,
            again=lambda said, status: _page(request, seat, number, said=said, status=status),
            stands=stands,
            heading="Somebody else changed this order meanwhile",
        )
    except (NotToHandOver, ThingOut) as refused:
        told = typed_texts(typed, *words)
        said = Said("Nothing was handed over", (declined(refused).errors[0].message,), typed=told)
        return _page(request, seat, number, said=said, status=409)


def read_handing_over(typed: Typed, found: Order) -> HandingOver:
    """The form as typed. Raises `FieldErrors` with all that is to be put right."""
    asked = Reading(typed, "")
    rings = {}
    for ring in found.rings:
        size = asked.read(f"size-{ring.position}", _size_of(ring))
        weight = asked.mass(f"weight-{ring.position}", WEIGHT_G)
        lot = asked.read(
            f"lot-{ring.position}", lambda value, field: read_text(value, field, longest=LONGEST_LOT)
        )
        rings[ring.position] = RingGiven(
            None if size is None else size.circumference_mm,
            "" if size is None else size.label,
            weight,
            lot or "",
        )
    goods = {}
    for good in found.goods_held:
        short = good_field(good.key)
        end = asked.choice(f"end-{short}", GoodEnd) or GoodEnd.BACK
        mass_g = asked.mass(f"back-{short}", _BACK_G)
        goods[good.key] = GoodGiven(end, None if mass_g is None else to_milligrams(mass_g))
    asked.stop()
    return HandingOver(rings, goods)


def _size_of(ring: OrderRing) -> Callable[[object, str], ReadSize | None]:
    """A reader of the ring's final size, in the system of its finger or in mm round."""
    system, beyond = ring.finger.system, ring.reckoning.practice.reading.beyond_z
    return lambda value, field: None if value is None else read_inside(value, field, system, beyond)


def _page(
    request: Request, seat: Seat, number: str, *, said: Said = _NOTHING, status: int = 200
) -> HTMLResponse:
    with session(seat.engine) as book:
        found = read_order(book, number)
        known = known_of(book, found) if found.state is State.READY else ()
    context = hand_over_context(found, known, said)
    return page(request, "hand_over/page.html", context, place=Place.ORDERS, status=status)
