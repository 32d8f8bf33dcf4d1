"""The pictures of an order over HTTP: one is added, taken away, and shown."""

import re
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.order_reads import order as read_order
from studio.book.picture_errors import PicturesFull, PictureUnknown
from studio.book.pictures import (
    LONGEST_NOTE,
    add_picture,
    check_room,
    picture_jpeg,
    picture_mark,
    take_picture_away,
)
from studio.craft.errors import Refused
from studio.craft.roles import Right
from studio.papers.pictures import MOST_BYTES, PictureRefused, TakenIn, WhyNoPicture
from studio.papers.pool import Cause, PaperNotMade
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import FieldError, FieldErrors, Findings, in_words
from studio.web.once import do_once, done_before
from studio.web.order_calling_off import kept_table
from studio.web.order_page import order_context
from studio.web.printing import printer_of
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import to_put_right, typed_texts
from studio.web.texts import read_text
from studio.web.threshold import SEALED_POLICY
from studio.web.uploads import Upload, Uploads

router = APIRouter()

Looks = Annotated[Seat, requires(Right.SEE_ORDERS)]
Takes = Annotated[Seat, requires(Right.TAKE_ORDERS)]
_AN_ID = re.compile(r"[1-9][0-9]{0,8}")
_WHY_NOT = {
    WhyNoPicture.EMPTY: "Choose a picture first.",
    WhyNoPicture.TOO_LARGE: "This file has more than 12 megabytes. Make it smaller, or take a photo of it.",
    WhyNoPicture.TOO_MANY_POINTS: "This picture has more than 50 megapixels. Make it smaller, then add it.",
    WhyNoPicture.DAMAGED: "This picture is damaged or not all there. Take it from where it came once more.",
}
_INSTEAD = {
    "HEIC": "This is an HEIC photo. On the telephone, share it as JPEG, or take a screenshot of it.",
    "PDF": "This is a PDF. Take a screenshot of the page, and add that.",
    "film": "This is a film. Take a still of it, and add that.",
    "ZIP": "These are packed files. Unpack them, and add one picture.",
}
_NOT_DECODED = {
    Cause.TOO_SLOW: "This picture takes too long to open. Save it anew as JPEG, or take a photo of it.",
    Cause.TOO_BIG: "This picture is too big to open. Make it smaller, then add it.",
    Cause.INTERRUPTED: "The picture was interrupted on its way. Add it again.",
}


@dataclass(frozen=True, slots=True)
class _Sent:
    """A picture on its way in: who sends it, to which order, with what."""

    request: Request
    seat: Seat
    number: str
    upload: Upload


@dataclass(frozen=True, slots=True)
class _Said:
    """What was said beside the file: the note, and which ring."""

    note: str
    ring: int | None


@router.post("/orders/{number}/pictures", response_class=HTMLResponse)
async def add(request: Request, seat: Takes, number: str) -> Response:
    """Add a picture. Who sends it is asked before the file is read; it is kept as it is written anew."""
    uploads: Uploads = request.app.state.uploads
    async with uploads.reading(request, "picture", MOST_BYTES) as upload:
        sent = _Sent(request, seat, number, upload)
        try:
            said = await run_in_threadpool(_checked, sent)
            if isinstance(said, Response):
                return said
            made = await printer_of(request).picture(upload.file)
            return await run_in_threadpool(_added, sent, said, made)
        except FieldErrors as found:
            return await run_in_threadpool(_again, sent, found.errors)
        except PicturesFull as full:
            return await run_in_threadpool(_again, sent, declined(full).errors, 409)
        except PictureRefused as refused:
            status = 413 if refused.why is WhyNoPicture.TOO_LARGE else 422
            return await run_in_threadpool(_again, sent, _at_the_file(refused_words(refused)), status)
        except PaperNotMade as not_made:
            status = 503 if not_made.cause is Cause.INTERRUPTED else 422
            return await run_in_threadpool(_again, sent, _at_the_file(_NOT_DECODED[not_made.cause]), status)


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


def refused_words(refused: PictureRefused) -> str:
    """Why a file is not taken, and what to do instead, in the studio's words."""
    if refused.why is not WhyNoPicture.OTHER_KIND:
        return _WHY_NOT[refused.why]
    if refused.kind in _INSTEAD:
        return _INSTEAD[refused.kind]
    a_kind = f"This is {'an' if refused.kind[:1] in 'AS' else 'a'} {refused.kind}." if refused.kind else ""
    return f"{a_kind or 'We cannot see a picture in this.'} Save it as JPEG or PNG, then add it."


def _checked(sent: _Sent) -> _Said | Response:
    """What was said, once the order takes one more picture; or the answer that was given already."""
    with session(sent.seat.engine) as book:
        before = done_before(sent.request, sent.seat, book, form_key=_form_key(sent))
        if before is not None:
            return before
        said = _read(sent.upload.typed)
        try:
            check_room(book, number=sent.number, ring=said.ring, note=said.note)
        except Refused as refused:
            raise FieldErrors(in_words(refused)) from None
    return said


def _read(typed: dict[str, str]) -> _Said:
    found = Findings()
    note = found.take(lambda: read_text(typed.get("picture_note"), "picture_note", longest=LONGEST_NOTE))
    place = typed.get("picture_ring", "").strip()
    if place and not _AN_ID.fullmatch(place):
        found.add("picture_ring", "We have no such ring. Choose one from the list.")
    found.stop()
    return _Said(" ".join((note or "").split()), int(place) if place else None)


def _added(sent: _Sent, said: _Said, made: TakenIn) -> Response:
    def work(book: Session) -> Answer:
        add_picture(
            book,
            number=sent.number,
            ring=said.ring,
            note=said.note,
            made=made,
            actor=sent.seat.actor,
            now=sent.seat.now,
        )
        return Answer(303, "", f"/orders/{sent.number}#pictures")

    try:
        with session(sent.seat.engine) as book:
            return do_once(sent.request, sent.seat, book, lambda: work(book), form_key=_form_key(sent))
    except Refused as refused:  # its ring was taken out of the order meanwhile
        raise FieldErrors(in_words(refused)) from None


def _form_key(sent: _Sent) -> str | None:
    return sent.upload.typed.get("idempotency_key")


def _at_the_file(words: str) -> tuple[FieldError, ...]:
    return (FieldError("picture", words),)


def _again(sent: _Sent, errors: tuple[FieldError, ...], status: int = 422) -> Response:
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
