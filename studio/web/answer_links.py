"""The link to the customer's own page: made on the quote's page, or with the letter that one takes along."""

from dataclasses import replace
from typing import Annotated
from zoneinfo import ZoneInfo

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.answer_links import link_for_letter, make_answer_link
from studio.book.engine import session
from studio.book.errors import QuoteAnswered, QuoteExpired, QuoteSuperseded
from studio.craft.roles import Right
from studio.post import QuoteLetter, quote_words
from studio.settings import Settings
from studio.web.book_errors import declined
from studio.web.letters import answer_address, letter_of, written
from studio.web.papers import paper_as_issued
from studio.web.quotes import quote_shown
from studio.web.security import Seat, requires
from studio.web.sent_back import Said

router = APIRouter()

Quoter = Annotated[Seat, requires(Right.QUOTE)]
_NOT_WAITING = (QuoteAnswered, QuoteSuperseded, QuoteExpired)


@router.post("/quotes/{number}/link", response_class=HTMLResponse)
def link(request: Request, number: str, seat: Quoter) -> Response:
    """Make a link to the customer's own page and show it, this once; all made before end.

    The key stands in this answer and nowhere else, so pressing again makes another one.
    """
    try:
        with session(seat.engine) as book:
            key = make_answer_link(book, number=number, actor=seat.actor, now=seat.now)
    except _NOT_WAITING as refused:
        return _no_link(request, seat, number, refused)
    return quote_shown(request, seat, number, fresh_link=answer_address(_base_url(request), key))


@router.post("/quotes/{number}/letter", response_class=HTMLResponse)
def letter_to_copy(request: Request, number: str, seat: Quoter) -> Response:
    """Make one more link, and show the letter's text with it, this once, to be copied. No older link ends."""
    try:
        letter = _with_link(request, seat, number, _letter(seat, number))
    except _NOT_WAITING as refused:
        return _no_link(request, seat, number, refused)
    return quote_shown(request, seat, number, fresh_link=letter.link, fresh_words=quote_words(letter))


@router.post("/quotes/{number}/letter.eml", response_class=Response)
async def letter_file(request: Request, number: str, seat: Quoter) -> Response:
    """Make one more link, and give the letter with it and the quote as a file. No older link ends."""
    letter = await run_in_threadpool(_letter, seat, number)
    there = seat.now.astimezone(ZoneInfo(seat.zone))
    written(letter, b"", now=there)  # what cannot be written makes no link
    pdf = await paper_as_issued(request, seat, number)
    try:
        letter = await run_in_threadpool(_with_link, request, seat, number, letter)
    except _NOT_WAITING as refused:
        return await run_in_threadpool(_no_link, request, seat, number, refused)
    headers = {"Content-Disposition": f'attachment; filename="quote-{number}.eml"'}
    return Response(written(letter, pdf, now=there), media_type="message/rfc822", headers=headers)


def _letter(seat: Seat, number: str) -> QuoteLetter:
    with session(seat.engine) as book:
        return letter_of(book, number)


def _with_link(request: Request, seat: Seat, number: str, letter: QuoteLetter) -> QuoteLetter:
    """The letter with a link of its own. Raises what `link_for_letter` raises."""
    with session(seat.engine) as book:
        key = link_for_letter(book, number=number, actor=seat.actor, now=seat.now)
    return replace(letter, link=answer_address(_base_url(request), key))


def _no_link(
    request: Request, seat: Seat, number: str, refused: QuoteAnswered | QuoteSuperseded | QuoteExpired
) -> Response:
    why = declined(refused)
    said = Said(heading="No link was made", sentences=(why.errors[0].message,))
    return quote_shown(request, seat, number, said, 409)


def _base_url(request: Request) -> str:
    settings: Settings = request.app.state.settings
    return settings.base_url
