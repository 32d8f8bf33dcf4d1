"""The API's variants: other ways to make an order's rings, offered beside them on one quote."""

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.orders import order
from studio.book.ring_practices import workshop
from studio.book.variants import add_variant, drop_variant
from studio.craft.roles import Right
from studio.web.api_answers import as_json, as_text
from studio.web.api_models import VariantIn
from studio.web.api_order_models import MovedOut, VariantTakenOut
from studio.web.bodies import ApiRoute
from studio.web.forms import Calendar, read_rings
from studio.web.once import do_once
from studio.web.reading import Reading, read_id, sure
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)

Taker = Annotated[Seat, requires(Right.TAKE_ORDERS)]


@router.post("/api/orders/{number}/variants", status_code=201, response_model=VariantTakenOut)
def offered(request: Request, seat: Taker, number: str, body: VariantIn) -> Response:
    """Offer one more way to make the order's rings, up to three with its own; fingers are the order's.

    A quoted order is a draft again. 409 from agreed on.
    """
    asked = Reading(body.fields(), "")
    version = asked.needed("version", read_id, "version")
    calendar = Calendar(seat.today, seat.zone, is_exact=True)
    with session(seat.engine) as book:
        here = workshop(book, seat.today, order(book, number))
    rings = asked.found.take(
        lambda: read_rings(asked.raw.get("rings"), calendar, usual_system=None, workshop=here)
    )
    asked.stop()

    def work() -> Answer:
        taken = {one.key for one in order(book, number).variants}
        done = add_variant(
            book, number=number, version=sure(version), rings=sure(rings), actor=seat.actor, now=seat.now
        )
        key = next(one.key for one in done.variants if one.key not in taken)
        return Answer(201, as_text(VariantTakenOut(key=key, state=done.state, version=done.version)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


@router.delete("/api/orders/{number}/variants/{key}", response_model=MovedOut)
def dropped(seat: Taker, number: str, key: str, version: Annotated[str, Query()] = "") -> Response:
    """Offer this way no longer; `?version=` is the order's."""
    asked = Reading({"version": version}, "")
    before = asked.needed("version", read_id, "version")
    asked.stop()
    with session(seat.engine) as book:
        done = drop_variant(
            book, number=number, key=key, version=sure(before), actor=seat.actor, now=seat.now
        )
    return as_json(MovedOut(state=done.state, version=done.version))
