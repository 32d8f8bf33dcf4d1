"""Saying on an order's page which earlier ring it mends, why, and who pays."""

from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.mending_errors import CannotMend
from studio.book.order_values import OrderChanges
from studio.book.orders import change_order
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import FieldError, FieldErrors, in_words
from studio.web.mends_reading import FIELDS, on_the_page, read_mends_typed
from studio.web.order import done, version_of
from studio.web.security import Seat, requires
from studio.web.sent_back import typed_texts

router = APIRouter()


@router.post("/orders/{number}/mends", response_class=HTMLResponse)
def mends(
    request: Request, number: str, typed: Typed, seat: Annotated[Seat, requires(Right.TAKE_ORDERS)]
) -> Response:
    """Say which earlier ring the order mends; without a ring it mends none. Free in every state."""
    fields = typed_texts(typed, *FIELDS)

    def work(book: Session) -> None:
        try:
            changes = OrderChanges(mends=read_mends_typed(fields))
            change_order(
                book,
                number=number,
                version=version_of(typed),
                changes=changes,
                actor=seat.actor,
                now=seat.now,
            )
        except Refused as refused:
            raise FieldErrors(
                FieldError(on_the_page(one.field), one.message) for one in in_words(refused)
            ) from None
        except CannotMend as refused:
            told = declined(refused).errors[0]
            raise FieldErrors([FieldError("mends_ring", told.message)]) from None

    return done(request, seat, number, typed, fields=fields, work=work)
