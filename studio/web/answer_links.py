"""The link to the customer's own page, made on the quote's page."""

from typing import Annotated

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.answer_links import make_answer_link
from studio.book.engine import session
from studio.book.errors import QuoteAnswered, QuoteExpired, QuoteSuperseded
from studio.craft.roles import Right
from studio.settings import Settings
from studio.web.book_errors import declined
from studio.web.quotes import quote_shown
from studio.web.security import Seat, requires
from studio.web.sent_back import Said

router = APIRouter()

Quoter = Annotated[Seat, requires(Right.QUOTE)]


@router.post("/quotes/{number}/link", response_class=HTMLResponse)
def link(request: Request, number: str, seat: Quoter) -> Response:
    """Make a link to the customer's own page and show it, this once; one made before ends.

    The key stands in this answer and nowhere else, so pressing again makes another one.
    """
    try:
        with session(seat.engine) as book:
            key = make_answer_link(book, number=number, actor=seat.actor, now=seat.now)
    except (QuoteAnswered, QuoteSuperseded, QuoteExpired) as refused:
        why = declined(refused)
        said = Said(heading="No link was made", sentences=(why.errors[0].message,))
        return quote_shown(request, seat, number, said, 409)
    settings: Settings = request.app.state.settings
    return quote_shown(request, seat, number, fresh_link=f"{settings.base_url}/answer/{key}")
