"""Saying on an order's page which marks a ring is to have, and where."""

from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.order_values import OrderChanges
from studio.book.orders import change_order
from studio.book.orders import order as read_order
from studio.craft.particulars import Marks
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.errors import FieldError, FieldErrors, Findings
from studio.web.order import done, version_of
from studio.web.order_marks import marks_fields
from studio.web.order_ring_reading import check_is_there
from studio.web.particulars_reading import read_marks
from studio.web.security import Seat, requires
from studio.web.sent_back import typed_texts

router = APIRouter()


@router.post("/orders/{number}/rings/{position}/marks", response_class=HTMLResponse)
def marks(
    request: Request,
    number: str,
    position: int,
    typed: Typed,
    seat: Annotated[Seat, requires(Right.TAKE_ORDERS)],
) -> Response:
    """Say which marks the ring is to have; a quoted order is a draft again, since its price may change."""
    names = marks_fields(position)
    fields = typed_texts(typed, *names.values())

    def work(book: Session) -> None:
        standing = read_order(book, number)
        check_is_there(standing, position)
        told = _read(fields, names)
        rings = tuple(
            replace(ring.draft, particulars=replace(ring.particulars, marks=told))
            if ring.position == position
            else ring.draft
            for ring in standing.rings
        )
        changes = OrderChanges(rings=rings)
        change_order(
            book, number=number, version=version_of(typed), changes=changes, actor=seat.actor, now=seat.now
        )

    return done(request, seat, number, typed, fields=fields, work=work)


def _read(fields: dict[str, str], names: dict[str, str]) -> Marks | None:
    """The marks as typed; without a word for the hallmark they are not asked yet."""
    raw = {part: fields[name] for part, name in names.items()}
    if not raw["hallmark"].strip():
        return None
    found = Findings()
    told = found.take(lambda: read_marks(raw, "marks"))
    if found.errors:
        raise FieldErrors(
            FieldError(names.get((error.field or "").removeprefix("marks."), error.field), error.message)
            for error in found.errors
        )
    return told
