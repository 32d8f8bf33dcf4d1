"""The pictures of an order over HTTP: one is added, taken away, and shown."""

import re
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.order_reads import order as read_order
from studio.book.picture_errors import PictureUnknown
from studio.book.pictures import picture_jpeg, picture_mark, take_picture_away
from studio.craft.roles import Right
from studio.web.bodies import Typed
from studio.web.errors import FieldError
from studio.web.once import do_once
from studio.web.order_calling_off import kept_table
from studio.web.order_page import order_context
from studio.web.picture_intake import Intake, Sent, take_in
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import to_put_right, typed_texts
from studio.web.threshold import SEALED_POLICY

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_ORDERS)]
Takes = Annotated[Seat, requires(Right.TAKE_ORDERS)]
_AN_ID = re.compile(r"[1-9][0-9]{0,8}")


@router.post("/orders/{number}/pictures", response_class=HTMLResponse)
async def add(request: Request, seat: Takes, number: str) -> Response:
    """Add a picture. Who sends it is asked before the file is read; it is kept as it is written anew."""
    return await take_in(request, seat, number, Intake(f"/orders/{number}#pictures", _again))


@router.post("/orders/{number}/pictures/{picture}/away", response_class=HTMLResponse)
def take_away(request: Request, seat: Takes, number: str, picture: str, typed: Typed) -> Response:
    """Take a picture away."""
    picture_id = _id(number, picture)

    def work(book: Session) -> Answer:
        take_picture_away(book, number=number, picture_id=picture_id, actor=seat.actor, now=seat.now)
        return Answer(303, "", f"/orders/{number}#pictures")

    with session(seat.engine) as book:
        return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))


@router.get("/orders/{number}/pictures/{picture}.jpg", response_class=Response)
def shown(request: Request, seat: Looks, number: str, picture: str) -> Response:
    """The picture; 404 for one of another order, or one that was taken away."""
    return _jpeg(request, seat, number, picture, is_small=False)


@router.get("/orders/{number}/pictures/{picture}/small.jpg", response_class=Response)
def shown_small(request: Request, seat: Looks, number: str, picture: str) -> Response:
    """The picture as lists and papers show it, no side longer than 520 points."""
    return _jpeg(request, seat, number, picture, is_small=True)


def _again(sent: Sent, errors: tuple[FieldError, ...], status: int) -> Response:
    """The order's page with what was typed; the file itself has to be chosen again."""
    with session(sent.seat.engine) as book:
        standing = read_order(book, sent.number)
    said = to_put_right(errors, typed_texts(sent.upload.typed, "picture_note", "picture_ring"))
    context = order_context(standing, sent.seat, said, kept=kept_table(standing, sent.seat))
    return page(sent.request, "orders/order.html", context, place=Place.ORDERS, status=status)


def _jpeg(request: Request, seat: Seat, number: str, picture: str, *, is_small: bool) -> Response:
    """Kept by the browser of whoever saw it, who asks each time whether it is still there."""
    picture_id = _id(number, picture)
    with session(seat.engine) as book:
        mark = f'"{picture_mark(book, number, picture_id)}"'
        headers = {"ETag": mark, "Cache-Control": "private, no-cache", "Vary": "Cookie, Authorization"}
        if request.headers.get("if-none-match") == mark:
            return Response(status_code=304, headers=headers)
        jpeg = picture_jpeg(book, number, picture_id, is_small=is_small)
    name = f"{number}-picture-{picture_id}.jpg"
    return Response(
        jpeg,
        media_type="image/jpeg",
        headers={
            **headers,
            "Content-Disposition": f'inline; filename="{name}"',
            "Content-Security-Policy": SEALED_POLICY,
        },
    )


def _id(number: str, picture: str) -> int:
    if not _AN_ID.fullmatch(picture):
        raise PictureUnknown(number, 0)
    return int(picture)
