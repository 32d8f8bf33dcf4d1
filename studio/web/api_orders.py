"""The API's orders: taking, listing, reading, changing, moving."""

from typing import Annotated, Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.errors import CustomerUnknown
from studio.book.idempotency import Answer
from studio.book.order_numbers import read_number
from studio.book.order_values import CustomerDraft, Order, OrderChanges
from studio.book.orders import change_order, move_order, order, orders_page, take_order
from studio.book.ring_practices import Workshop, workshop
from studio.book.studio import studio_days
from studio.craft.open_days import StudioDays
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.web.api import Limit
from studio.web.api_answers import as_json, as_text, order_line_out, order_out, taken_out
from studio.web.api_models import MoveIn, OrderIn, OrderPatch
from studio.web.api_order_list_models import OrdersOut
from studio.web.api_order_models import MovedOut, OrderOut, TakenOut
from studio.web.bodies import ApiRoute
from studio.web.errors import FieldError, FieldErrors
from studio.web.forms import (
    LONGEST_REASON,
    Calendar,
    long_text,
    read_customer,
    read_rings,
    read_terms,
)
from studio.web.moves import right_for
from studio.web.once import do_once
from studio.web.order_days import days_out
from studio.web.reading import Reading, read_choice, read_id, sure
from studio.web.security import Seat, requires
from studio.web.texts import read_word

router = APIRouter(route_class=ApiRoute)

Reader = Annotated[Seat, requires(Right.SEE_ORDERS)]
Taker = Annotated[Seat, requires(Right.TAKE_ORDERS)]
PAGE_LENGTH = 50
_TERMS = ("wanted_on", "wanted_hard", "promised_at", "bench_on", "note", "avoid", "collects", "mends")


@router.post("/api/orders", status_code=201, response_model=TakenOut)
def take(request: Request, seat: Taker, body: OrderIn) -> Response:
    """Take an order as a draft."""
    calendar = Calendar(seat.today, seat.zone, is_exact=True)
    asked = Reading(body.fields(), "")
    customer = asked.found.take(lambda: read_customer(asked.raw.get("customer")))
    terms = asked.found.take(lambda: read_terms(asked.raw, calendar))
    with session(seat.engine) as book:
        here = workshop(book, seat.today)
    rings = asked.found.take(
        lambda: read_rings(asked.raw.get("rings"), calendar, usual_system=None, workshop=here)
    )
    asked.stop()

    def work() -> Answer:
        try:
            taken = take_order(
                book,
                customer=customer or 0,  # stop() has let a customer through; 0 is nobody's id
                terms=sure(terms),
                rings=sure(rings),
                actor=seat.actor,
                now=seat.now,
            )
        except CustomerUnknown:
            raise FieldErrors([FieldError("customer.id", "There is no customer with this id.")]) from None
        return Answer(201, as_text(taken_out(taken)), f"/api/orders/{taken.number}")

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


@router.get("/api/orders", response_model=OrdersOut)
def listed(seat: Reader, state: str = "", q: str = "", after: str = "", limit: Limit = None) -> Response:
    """Orders, the newest first; found by name, number, or the end of a telephone number."""
    asked = Reading({"state": state, "q": q, "after": after}, "")
    wanted, query = asked.choice("state", State), asked.read("q", read_word)
    start = asked.read("after", _read_order_number)
    asked.stop()
    with session(seat.engine) as book:
        found = orders_page(
            book,
            state=wanted,
            query=query or None,
            by_phone=seat.may(Right.SEE_CONTACT),
            after=start,
            limit=limit or PAGE_LENGTH,
            now=seat.now,
        )
    return as_json(OrdersOut(items=[order_line_out(line) for line in found.items], next=found.next))


@router.get("/api/orders/{number}", response_model=OrderOut)
def shown(seat: Reader, number: str) -> Response:
    """One order whole, each ring with its reckoning."""
    with session(seat.engine) as book:
        found, days = order(book, number), studio_days(book)
    return as_json(_order_out(found, days, seat))


@router.patch("/api/orders/{number}", response_model=OrderOut)
def changed(seat: Taker, number: str, body: OrderPatch) -> Response:
    """Change what is given; from agreed on only note, contact and bench_on."""
    asked = Reading(body.fields(), "")
    version = asked.needed("version", read_id, "version")
    calendar = Calendar(seat.today, seat.zone, is_exact=True)
    with session(seat.engine) as book:
        stands = order(book, number)
        here = workshop(book, seat.today, stands)
        changes = asked.found.take(lambda: _changes(asked, stands, calendar, here))
        asked.stop()
        now = change_order(
            book, number=number, version=sure(version), changes=sure(changes), actor=seat.actor, now=seat.now
        )
        days = studio_days(book)
    return as_json(_order_out(now, days, seat))


@router.post("/api/orders/{number}/moves", response_model=MovedOut)
def moved(request: Request, seat: Reader, number: str, body: MoveIn) -> Response:
    """Move an order to another state. It becomes agreed by the yes to its quote alone.

    Where the bench waits for the deposit alone, a `reason` from somebody who notes deposits does instead.
    """
    asked = Reading(body.fields(), "")
    to = asked.needed("to", lambda value, field: read_choice(value, field, State), "state to move to")
    version = asked.needed("version", read_id, "version")
    reason = asked.read("reason", long_text(LONGEST_REASON))
    asked.stop()

    def work() -> Answer:
        seat.must(right_for(order(book, number).state, sure(to)))
        now = move_order(
            book,
            number=number,
            to=sure(to),
            version=sure(version),
            reason=reason or None,
            may_waive=seat.may(Right.AGREE),
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(200, as_text(MovedOut(state=now.state, version=now.version)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


def _read_order_number(value: object, field: str) -> str | None:
    """Where a list goes on: the number of an order, None where nothing is given."""
    if value is not None and read_number(str(value)) is None:
        raise FieldErrors([FieldError(field, "This is not the number of an order, such as 2026-118.")])
    return None if value is None else str(value)


def _changes(asked: Reading, stands: Order, calendar: Calendar, here: Workshop) -> OrderChanges:
    """The fields that were sent, read; of a contact what was left out stays as it is."""
    terms = asked.found.take(lambda: read_terms(asked.raw, calendar))
    changed: dict[str, Any] = {}
    if terms is not None:  # else what is wrong with them is told with the rest, by stop()
        changed |= {name: getattr(terms, name) for name in _TERMS if name in asked.raw}
    if asked.has("customer"):
        changed["customer"] = asked.found.take(lambda: _contact(asked.raw["customer"], stands))
    if "rings" in asked.raw:
        changed["rings"] = asked.found.take(
            lambda: read_rings(asked.raw["rings"], calendar, usual_system=None, workshop=here)
        )
    asked.stop()
    return OrderChanges(**changed)


def _contact(raw: object, stands: Order) -> CustomerDraft:
    sent = Reading(raw, "customer")
    if sent.has("id") and sent.read("id", read_id) not in {None, stands.customer.id}:
        sent.add("id", "An order stays with its customer. Change name, phone or email.")
    sent.stop()
    known = {"name": stands.customer.name, "phone": stands.customer.phone, "email": stands.customer.email}
    draft = read_customer(known | {name: value for name, value in sent.raw.items() if name != "id"})
    if isinstance(draft, int):
        raise TypeError("a customer without an id was read as one")
    return draft


def _order_out(found: Order, days: StudioDays, seat: Seat) -> OrderOut:
    return order_out(
        found,
        days=days_out(found, days, seat),
        shows_contact=seat.may(Right.SEE_CONTACT),
        shows_price=seat.may(Right.SEE_PRICE),
        rule=seat.rule,
        today=seat.today,
        now=seat.now,
    )
