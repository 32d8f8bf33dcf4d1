"""A picture on its way in: read, decoded, kept, or told beside its field why not."""

import re
from collections.abc import Callable
from dataclasses import dataclass

from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.picture_errors import PicturesFull
from studio.book.pictures import LONGEST_NOTE, add_picture, check_room
from studio.craft.errors import Refused
from studio.papers.pictures import MOST_BYTES, PictureRefused, TakenIn, WhyNoPicture
from studio.papers.pool import Cause, PaperNotMade
from studio.web.book_errors import declined
from studio.web.errors import FieldError, FieldErrors, Findings, in_words
from studio.web.once import do_once, done_before
from studio.web.printing import printer_of
from studio.web.security import Seat
from studio.web.texts import read_text
from studio.web.uploads import Upload, Uploads

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
class Intake:
    """Where a picture comes in: the page it leads back to, and that page again with what is to be put right.

    `ring` is which ring it is of, where the page itself says so.
    """

    href: str
    again: "Callable[[Sent, tuple[FieldError, ...], int], Response]"
    ring: int | None = None


@dataclass(frozen=True, slots=True)
class Sent:
    """A picture that is sent: by whom, to which order, with what, and where it comes in."""

    request: Request
    seat: Seat
    number: str
    upload: Upload
    intake: Intake


@dataclass(frozen=True, slots=True)
class _Said:
    """What was said beside the file: the note, and which ring."""

    note: str
    ring: int | None


async def take_in(request: Request, seat: Seat, number: str, intake: Intake) -> Response:
    """Take a picture in for an order; it is kept as it is written anew, once for the form's key."""
    uploads: Uploads = request.app.state.uploads

    async def again(errors: tuple[FieldError, ...], status: int = 422) -> Response:
        return await run_in_threadpool(intake.again, sent, errors, status)

    async with uploads.reading(request, "picture", MOST_BYTES) as upload:
        sent = Sent(request, seat, number, upload, intake)
        try:
            said = await run_in_threadpool(_checked, sent)
            if isinstance(said, Response):
                return said
            made = await printer_of(request).picture(upload.file)
            return await run_in_threadpool(_added, sent, said, made)
        except FieldErrors as found:
            return await again(found.errors)
        except PicturesFull as full:
            return await again(declined(full).errors, 409)
        except PictureRefused as refused:
            status = 413 if refused.why is WhyNoPicture.TOO_LARGE else 422
            return await again(_at_the_file(refused_words(refused)), status)
        except PaperNotMade as not_made:
            status = 503 if not_made.cause is Cause.INTERRUPTED else 422
            return await again(_at_the_file(_NOT_DECODED[not_made.cause]), status)


def refused_words(refused: PictureRefused) -> str:
    """Why a file is not taken, and what to do instead, in the studio's words."""
    if refused.why is not WhyNoPicture.OTHER_KIND:
        return _WHY_NOT[refused.why]
    if refused.kind in _INSTEAD:
        return _INSTEAD[refused.kind]
    a_kind = f"This is {'an' if refused.kind[:1] in 'AS' else 'a'} {refused.kind}." if refused.kind else ""
    return f"{a_kind or 'We cannot see a picture in this.'} Save it as JPEG or PNG, then add it."


def _checked(sent: Sent) -> _Said | Response:
    """What was said, once the order takes one more picture; or the answer that was given already."""
    with session(sent.seat.engine) as book:
        before = done_before(sent.request, sent.seat, book, form_key=_form_key(sent))
        if before is not None:
            return before
        said = _read(sent.upload.typed, sent.intake.ring)
        try:
            check_room(book, number=sent.number, ring=said.ring, note=said.note)
        except Refused as refused:
            raise FieldErrors(in_words(refused)) from None
    return said


def _read(typed: dict[str, str], ring: int | None) -> _Said:
    found = Findings()
    note = found.take(lambda: read_text(typed.get("picture_note"), "picture_note", longest=LONGEST_NOTE))
    place = str(ring) if ring is not None else typed.get("picture_ring", "").strip()
    if place and not _AN_ID.fullmatch(place):
        found.add("picture_ring", "We have no such ring. Choose one from the list.")
    found.stop()
    return _Said(" ".join((note or "").split()), int(place) if place else None)


def _added(sent: Sent, said: _Said, made: TakenIn) -> Response:
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
        return Answer(303, "", sent.intake.href)

    try:
        with session(sent.seat.engine) as book:
            return do_once(sent.request, sent.seat, book, lambda: work(book), form_key=_form_key(sent))
    except Refused as refused:  # its ring was taken out of the order meanwhile
        raise FieldErrors(in_words(refused)) from None


def _form_key(sent: Sent) -> str | None:
    return sent.upload.typed.get("idempotency_key")


def _at_the_file(words: str) -> tuple[FieldError, ...]:
    return (FieldError("picture", words),)
