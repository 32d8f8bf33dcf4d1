"""What is owed of an order that was called off after the yes, typed on its page."""

from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.agreed_errors import NothingToSettleUp
from studio.book.calling_off import settle_up
from studio.book.orders import order as read_order
from studio.craft.roles import Right
from studio.web.amounts import read_amount
from studio.web.bodies import Typed
from studio.web.order import done, version_of
from studio.web.reading import Reading, sure
from studio.web.security import Seat, requires
from studio.web.sent_back import typed_texts

router = APIRouter()


@router.post("/orders/{number}/settlement", response_class=HTMLResponse)
def settlement(
    request: Request, number: str, typed: Typed, seat: Annotated[Seat, requires(Right.AGREE)]
) -> Response:
    """Note what is owed, whatever the studio's table says."""
    fields = typed_texts(typed, "owed")

    def work(book: Session) -> None:
        found = read_order(book, number).calling_off
        if found is None:
            raise NothingToSettleUp(number)
        asked = Reading(typed, "")
        owed = asked.needed("owed", read_amount(found.currency), "amount that is owed")
        asked.stop()
        settle_up(
            book,
            number=number,
            owed_minor=sure(owed),
            version=version_of(typed),
            actor=seat.actor,
            now=seat.now,
        )

    return done(request, seat, number, typed, fields=fields, work=work)
