"""The measured thickness of the strip on the order's page, and the mark for it. Nothing is written down."""

from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse

from studio.book.engine import session
from studio.book.orders import order as read_order
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.web.errors import FieldError, in_words
from studio.web.order_calling_off import kept_table
from studio.web.order_mends import costs_of
from studio.web.order_page import order_context
from studio.web.order_ring import in_typed_stock, thickness_field
from studio.web.order_ring_reading import check_is_there
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, to_put_right

router = APIRouter()


@router.get("/orders/{number}/rings/{position}/thickness", response_class=HTMLResponse)
def thickness(
    request: Request,
    number: str,
    position: int,
    seat: Annotated[Seat, requires(Right.SEE_ORDERS)],
    measured: str = "",
) -> HTMLResponse:
    """The order's page with the mark for the thickness `measured`, or with what is to be put right."""
    with session(seat.engine) as book:
        standing = read_order(book, number)
    check_is_there(standing, position)
    name = thickness_field(position)
    said, status = Said(typed={name: measured}), 200
    ring = next(ring for ring in standing.rings if ring.position == position)
    try:
        in_typed_stock(ring.reckoning, measured)
    except Refused as refused:
        errors = tuple(FieldError(name, error.message) for error in in_words(refused))
        said, status = to_put_right(errors, {name: measured}), 422
    context = order_context(standing, seat, said, costs_of(standing, seat), kept_table(standing, seat))
    return page(request, "orders/order.html", context, place=Place.ORDERS, status=status)
