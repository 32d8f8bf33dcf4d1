"""The API's buying: what suppliers sell, what is short, and metal ordered, arrived and called off."""

from functools import partial
from typing import Annotated, Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.pieces import LONGEST_LOT, LONGEST_PLACE
from studio.book.purchase_reads import Purchase, purchase, purchases
from studio.book.purchases import MOST_LINES, Wanted, call_off_metal, order_metal, receive_metal
from studio.book.supplies import LONGEST_SUPPLIER, supplies
from studio.craft.drawer import LENGTH_MM, MASS_G, WIDTH_MM
from studio.craft.roles import Right
from studio.craft.units import to_micrometres
from studio.web.amounts import read_minor
from studio.web.api import Limit
from studio.web.api_answers import as_json, as_text
from studio.web.api_purchase_answers import buying_out, purchase_out, supply_out
from studio.web.api_purchase_models import (
    ArrivalIn,
    BuyingOut,
    OffIn,
    PurchaseIn,
    PurchaseOut,
    PurchasesOut,
    SuppliesOut,
)
from studio.web.bodies import ApiRoute
from studio.web.buying_reading import buying
from studio.web.errors import FieldError, FieldErrors, Findings
from studio.web.once import do_once
from studio.web.reading import Reading, read_id, sure
from studio.web.security import Seat, requires
from studio.web.texts import read_text

router = APIRouter(route_class=ApiRoute)

Keeper = Annotated[Seat, requires(Right.KEEP_DRAWER)]


@router.get("/api/supplies", response_model=SuppliesOut)
def sold(seat: Keeper, after: str = "", limit: Limit = None) -> Response:  # noqa: ARG001  one page holds all
    """What suppliers sell, whole in one page, by their names, alloys and thicknesses."""
    with session(seat.engine) as book:
        found = supplies(book)
    sees_cost = seat.may(Right.SEE_COST)
    return as_json(SuppliesOut(items=[supply_out(one, sees_cost=sees_cost) for one in found]))


@router.get("/api/buying", response_model=BuyingOut)
async def short(request: Request, seat: Keeper) -> Response:
    """What to order of whom and by when, for the blanks that nothing in the drawer or on its way yields."""
    found = await buying(request, seat)
    return as_json(buying_out(found, sees_cost=seat.may(Right.SEE_COST)))


@router.get("/api/purchases", response_model=PurchasesOut)
def listed(seat: Keeper, after: str = "", limit: Limit = None) -> Response:  # noqa: ARG001  one page holds all
    """The purchases with something on its way, then the latest others, whole in one page."""
    with session(seat.engine) as book:
        found = purchases(book)
    return as_json(PurchasesOut(items=[_told(one, seat) for one in found]))


@router.get("/api/purchases/{purchase_id}", response_model=PurchaseOut)
def one_of_them(seat: Keeper, purchase_id: int) -> Response:
    """One purchase with its things."""
    with session(seat.engine) as book:
        return as_json(_told(purchase(book, purchase_id), seat))


@router.post("/api/purchases", status_code=201, response_model=PurchaseOut)
def ordered(request: Request, seat: Keeper, body: PurchaseIn) -> Response:
    """Note that things were ordered of a supplier today. 409 where another was made since `latest`."""
    asked = Reading(body.fields(), "")
    supplier = asked.needed(
        "supplier", lambda value, field: read_text(value, field, longest=LONGEST_SUPPLIER), "supplier"
    )
    wanted = asked.found.take(lambda: _wanted(asked.raw.get("lines")))
    seen = asked.read("latest", read_id) if asked.has("latest") else None
    asked.stop()

    def work() -> Answer:
        made = order_metal(
            book, supplier=sure(supplier), wanted=sure(wanted), seen=seen, actor=seat.actor, now=seat.now
        )
        return Answer(201, as_text(_told(made, seat)), f"/api/purchases/{made.id}")

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


@router.post(
    "/api/purchases/{purchase_id}/lines/{line_id}/arrival", status_code=201, response_model=PurchaseOut
)
def arrived(request: Request, seat: Keeper, purchase_id: int, line_id: int, body: ArrivalIn) -> Response:
    """One thing arrived: it lies in the drawer, with its lot, price and weight. 409 the second time."""
    asked = Reading(body.fields(), "")
    mass, length = asked.mass("mass", MASS_G), asked.length("length", LENGTH_MM, gauge=None)
    lot = asked.read("lot", lambda value, field: read_text(value, field, longest=LONGEST_LOT))
    place = asked.read("place", lambda value, field: read_text(value, field, longest=LONGEST_PLACE))
    paid = asked.read("paid_minor", read_minor) if asked.has("paid_minor") else None
    if paid is not None and not seat.may(Right.SEE_COST):
        asked.add("paid_minor", "What was paid is written by who may see costs.")
    is_sure = bool(asked.yes("sure"))
    asked.stop()

    def work() -> Answer:
        receive_metal(
            book,
            purchase_id=purchase_id,
            line_id=line_id,
            mass_g=mass,
            length_mm=length,
            lot=lot or "",
            paid_minor=paid,
            place=place or "",
            is_sure=is_sure,
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(201, as_text(_told(purchase(book, purchase_id), seat)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


@router.post("/api/purchases/{purchase_id}/calling-off", response_model=PurchaseOut)
def called_off(request: Request, seat: Keeper, purchase_id: int, body: OffIn) -> Response:
    """Call off what has not arrived of a purchase. 409 where nothing of it is on its way."""
    asked = Reading(body.fields(), "")
    version = asked.needed("version", read_id, "version")
    asked.stop()

    def work() -> Answer:
        done = call_off_metal(
            book, purchase_id=purchase_id, version=sure(version), actor=seat.actor, now=seat.now
        )
        return Answer(200, as_text(_told(done, seat)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)


def _told(made: Purchase, seat: Seat) -> PurchaseOut:
    return purchase_out(made, today=seat.today, sees_cost=seat.may(Right.SEE_COST))


def _wanted(raw: object) -> list[Wanted]:
    if not isinstance(raw, list) or not 0 < len(raw) <= MOST_LINES:
        raise FieldErrors([FieldError("lines", f"This has to be a list of 1 to {MOST_LINES} things.")])
    found = Findings()
    lines = [found.take(partial(_thing, one, f"lines.{at}")) for at, one in enumerate(raw)]
    found.stop()
    return [sure(one) for one in lines]


def _thing(raw: Any, path: str) -> Wanted:
    row = Reading(raw, path)
    supply = row.needed("supply", read_id, "supply")
    sides = []
    for name, limits in (("length", LENGTH_MM), ("width", WIDTH_MM)):
        side = row.length(name, limits, gauge=None)
        if side is None and not row.is_wrong(name):
            row.add(name, f"The {name} is not given yet.")
        sides.append(side)
    row.stop()
    length, width = (to_micrometres(sure(side)) for side in sides)
    return Wanted(sure(supply), length, width)
