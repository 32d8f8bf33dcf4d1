"""The counter: an order is taken while the customer talks, and each of its rings is looked at again here."""

import re
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from studio.book.engine import session
from studio.book.gauges import usual_gauge
from studio.craft.mends import MendKind
from studio.craft.orders import BEFORE_AGREEMENT
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.counter_again import KEEPS, brought_again
from studio.web.counter_desk import at_hand, live, shown
from studio.web.counter_drafts import key_not_kept_yet, opened_again
from studio.web.counter_drafts import router as drafts_router
from studio.web.counter_fingers import finger_of_ring, with_finger
from studio.web.counter_form import CounterForm, flat
from studio.web.counter_keeping import kept
from studio.web.counter_show import new_order_form, offers
from studio.web.counter_standing import Standing, standing_of
from studio.web.counter_stored import (
    as_made_form,
    ring_form,
    same_again_form,
    with_what_is_the_orders,
)
from studio.web.errors import Declined
from studio.web.mends_reading import hidden_mends
from studio.web.render import fragment
from studio.web.security import Seat, requires

router = APIRouter()
router.routes.extend(drafts_router.routes)

Taker = Annotated[Seat, requires(Right.TAKE_ORDERS)]

_RING = re.compile(r"[0-9]{4}-[0-9]{1,9}/[0-9]{1,3}")
"""A ring by its order's number and its place: '2026-118/1'."""


@router.get("/orders/new")
def empty_page(
    request: Request, seat: Taker, customer: str = "", draft: str = "", like: str = ""
) -> Response:
    """The counter's page for a new order.

    `?customer=7` has a known customer chosen; `?like=2026-118/1` begins as that ring, for the same customer,
    and with `&mends=remake` (or resize, repair) as what mends it; `?draft=` goes on with a form, or leads to
    its order.
    """
    again = opened_again(seat, draft) if draft else None
    if isinstance(again, str):
        return RedirectResponse(again, status_code=303)
    if again is not None:
        form, saved = again
        return shown(request, seat, form, None, saved=saved)
    with session(seat.engine) as book:
        form = new_order_form(seat.actor.name, usual_gauge(book))
        if like:
            form = _same_again(book, seat, like)
            mends = request.query_params.get("mends", "")
            form = _mending(form, like, mends) if mends else form
    form = form.with_values(draft=key_not_kept_yet(seat, draft))
    if customer:
        form = form.with_values(customer__id=customer)
    return shown(request, seat, form, None)


def _same_again(book: Session, seat: Seat, like: str) -> CounterForm:
    if not _RING.fullmatch(like):
        raise Declined(404, "There is no such ring.")
    number, _, position = like.partition("/")
    standing = standing_of(book, number, position)
    if standing.ring is None:
        raise Declined(404, f"Order {number} has no such ring.")
    customer_id = standing.order.customer.id
    form = same_again_form(standing.ring, customer_id)
    measured = finger_of_ring(book, customer_id, standing.ring)
    form = form if measured is None else with_finger(form, measured, seat)
    return as_made_form(form, standing.order, standing.ring)


def _mending(form: CounterForm, like: str, kind: str) -> CounterForm:
    """The form as what mends the ring. What is resized gets another size, so that is asked for."""
    if kind not in set(MendKind):
        raise Declined(404, "A ring is remade, resized or repaired.")
    form = form.with_values(mends=hidden_mends(like, MendKind(kind)))
    if kind == MendKind.RESIZE:
        form = form.with_values(
            finger__size="", finger__size_to="", finger__knuckle="", finger__two_days="", finger__from=""
        )
    return form


@router.post("/orders")
def take(request: Request, seat: Taker, fields: Typed) -> Response:
    """Take the order, or bring the page again: with what is to put right, or with what a button asked for."""
    form = CounterForm(flat(fields))
    if form.value("act") not in KEEPS:
        return brought_again(request, seat, form, None)
    return kept(request, seat, form, None)


@router.get("/orders/{number}/rings/{position}")
def ring_page(request: Request, seat: Taker, number: str, position: str, draft: str = "") -> Response:
    """The counter's page for one ring of an order, or for one more (`new`); `?draft=` goes on with a form.

    Once the order is agreed its rings stand; then the order's own page shows them.
    """
    standing = _standing(seat, number, position)
    if standing.order.state not in BEFORE_AGREEMENT:
        return RedirectResponse(f"/orders/{number}", status_code=303)
    again = opened_again(seat, draft) if draft else None
    if isinstance(again, tuple):
        form, saved = again
        return shown(request, seat, form, standing, saved=saved)
    form = ring_form(standing.order, standing.ring, seat.zone)
    return shown(request, seat, form.with_values(draft=key_not_kept_yet(seat, draft)), standing)


@router.post("/orders/{number}/rings/{position}")
def change_ring(request: Request, seat: Taker, number: str, position: str, fields: Typed) -> Response:
    """Keep the ring with the order's days and note, or bring the page again."""
    form = CounterForm(flat(fields))
    standing = _standing(seat, number, position)
    if form.value("act") not in KEEPS:
        return brought_again(request, seat, form, standing)
    return kept(request, seat, form, standing)


@router.post("/counter/figures")
def figures(
    request: Request,
    seat: Annotated[Seat, requires(Right.RECKON)],
    fields: Typed,
    *,
    order: str = "",
    ring: str = "new",
    variant: str = "",
) -> Response:
    """Drawing, figures, notes and what is missing as the form is typed: what a plain submit would show.

    `?order=2026-118&ring=1` says whose ring it is, for the price of the whole order.
    """
    with session(seat.engine) as book:
        standing = standing_of(book, order, ring, variant) if order and seat.may(Right.TAKE_ORDERS) else None
        form, tools = CounterForm(flat(fields)), at_hand(book, seat, standing)
        form = form if standing is None else with_what_is_the_orders(form, standing, seat.zone)
        reckoned, _ = live(book, seat, form, standing, tools)
    return fragment(request, "counter/_figures.html", reckoned)


@router.get("/counter/customers")
def known_customers(
    request: Request, seat: Annotated[Seat, requires(Right.SEE_CONTACT)], q: str = ""
) -> Response:
    """Known customers whose name or phone may be meant by `q`."""
    with session(seat.engine) as book:
        found = offers(book, q, says_none=False)
    return fragment(request, "counter/_offers.html", found)


def _standing(seat: Seat, number: str, position: str) -> Standing:
    with session(seat.engine) as book:
        return standing_of(book, number, position)
