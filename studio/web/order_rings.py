"""What is still said of the rings of an order, on its page: reasons, an inscription read back, a size."""

from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.order_values import OrderChanges
from studio.book.orders import change_order
from studio.book.orders import order as read_order
from studio.book.settling import settle_size
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.errors import FieldError, FieldErrors, in_words
from studio.web.order import done, version_of
from studio.web.order_ring import size_field, warning_field
from studio.web.order_ring_reading import read_back_rings, read_reasons
from studio.web.security import Seat, requires
from studio.web.sent_back import typed_texts

router = APIRouter()


@router.post("/orders/{number}/rings/{position}/reasons", response_class=HTMLResponse)
def reasons(
    request: Request,
    number: str,
    position: int,
    typed: Typed,
    seat: Annotated[Seat, requires(Right.TAKE_ORDERS)],
) -> Response:
    """Say why the warnings of a ring are let through; the quote and the yes to it stay as they are."""
    names = [name for name in typed if name.startswith(warning_field(position, ""))]
    fields = typed_texts(typed, *names)

    def work(book: Session) -> None:
        rings = read_reasons(typed, read_order(book, number), position)
        changes = OrderChanges(rings=rings)
        change_order(
            book, number=number, version=version_of(typed), changes=changes, actor=seat.actor, now=seat.now
        )

    return done(request, seat, number, typed, fields=fields, work=work)


@router.post("/orders/{number}/rings/{position}/read-back", response_class=HTMLResponse)
def read_back(
    request: Request,
    number: str,
    position: int,
    typed: Typed,
    seat: Annotated[Seat, requires(Right.TAKE_ORDERS)],
) -> Response:
    """Note that an inscription was read back letter by letter; the quote and the yes to it stay."""

    def work(book: Session) -> None:
        changes = OrderChanges(rings=read_back_rings(read_order(book, number), position))
        change_order(
            book, number=number, version=version_of(typed), changes=changes, actor=seat.actor, now=seat.now
        )

    return done(request, seat, number, typed, fields={}, work=work)


@router.post("/orders/{number}/rings/{position}/size", response_class=HTMLResponse)
def size(
    request: Request,
    number: str,
    position: int,
    typed: Typed,
    seat: Annotated[Seat, requires(Right.TAKE_ORDERS)],
) -> Response:
    """Settle the size of a ring that was agreed as a range."""
    name = size_field(position)
    fields = typed_texts(typed, name)

    def work(book: Session) -> None:
        try:
            settle_size(
                book,
                number=number,
                position=position,
                version=version_of(typed),
                size=fields[name],
                actor=seat.actor,
                now=seat.now,
            )
        except Refused as refused:
            raise FieldErrors([FieldError(name, error.message) for error in in_words(refused)]) from None

    return done(request, seat, number, typed, fields=fields, work=work)
