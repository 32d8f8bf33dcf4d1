"""A photo of the work, taken at the bench: it is kept with the order's pictures, as one of this ring."""

from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.craft.roles import Right
from studio.web.bench_page import place_of, read_bench_page
from studio.web.errors import FieldError
from studio.web.picture_intake import Intake, Sent, take_in
from studio.web.render import page
from studio.web.security import Seat, requires
from studio.web.sent_back import to_put_right, typed_texts

router = APIRouter()

Bench = Annotated[Seat, requires(Right.MOVE_ORDERS, is_bench_work=True)]


@router.post("/bench/{number}/{position}/pictures", response_class=HTMLResponse)
async def add(request: Request, seat: Bench, number: str, position: str) -> Response:
    """Add a photo of the ring as it is now; its note and its key come along."""
    place = place_of(number, position)
    return await take_in(request, seat, number, Intake(f"/bench/{number}/{place}", _again, ring=place))


def _again(sent: Sent, errors: tuple[FieldError, ...], status: int) -> Response:
    """The ring's page with what was typed; the file itself has to be chosen again."""
    said = to_put_right(errors, typed_texts(sent.upload.typed, "picture_note"))
    with session(sent.seat.engine) as book:
        context = read_bench_page(book, sent.seat, (sent.number, sent.intake.ring or 0), said=said)
    return page(sent.request, "bench/ring.html", context, status=status, is_bare=True)
