"""The API's metal prices: what a metal costs on a day, as the studio was told."""

from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.rates import add_metal_price
from studio.book.studio import studio
from studio.craft.roles import Right
from studio.web.api_answers import as_text
from studio.web.api_quote_models import MetalPriceIn, MetalPriceOut
from studio.web.bodies import ApiRoute
from studio.web.forms import Calendar
from studio.web.once import do_once
from studio.web.price_reading import read_metal_price
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)


@router.post("/api/metal-prices", status_code=201, response_model=MetalPriceOut)
def put_in(
    request: Request, seat: Annotated[Seat, requires(Right.KEEP_RATES)], body: MetalPriceIn
) -> Response:
    """Put in a metal's price, in the studio's currency. The latest day counts, on one day what came last."""
    price = read_metal_price(body.fields(), Calendar(seat.today, seat.zone))

    def work() -> Answer:
        add_metal_price(book, price=price, actor=seat.actor, now=seat.now)
        told = MetalPriceOut(
            metal=price.metal,
            price=price.price,
            currency=studio(book).currency,
            unit=price.unit,
            on=price.on,
            source=price.source,
        )
        return Answer(201, as_text(told))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)
