"""The API's orders called off after the yes: what is owed of them."""

from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from studio.book.calling_off import settle_up
from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.craft.roles import Right
from studio.web.amounts import read_minor
from studio.web.api_answers import as_text, calling_off_out
from studio.web.api_models import SettlementIn
from studio.web.api_order_models import CallingOffOut
from studio.web.bodies import ApiRoute
from studio.web.once import do_once
from studio.web.reading import Reading, read_id, sure
from studio.web.security import Seat, requires

router = APIRouter(route_class=ApiRoute)


@router.post("/api/orders/{number}/settlement", response_model=CallingOffOut)
def settled(
    request: Request, number: str, seat: Annotated[Seat, requires(Right.AGREE)], body: SettlementIn
) -> Response:
    """Say what is owed of an order that was called off after the yes, whatever the studio's table says."""
    asked = Reading(body.fields(), "")
    owed = asked.needed("owed_minor", read_minor, "amount that is owed")
    version = asked.needed("version", read_id, "version")
    asked.stop()

    def work() -> Answer:
        done = settle_up(
            book, number=number, owed_minor=sure(owed), version=sure(version), actor=seat.actor, now=seat.now
        )
        return Answer(200, as_text(calling_off_out(done)))

    with session(seat.engine) as book:
        return do_once(request, seat, book, work)
