"""How an error reaches its reader: as a plain page, or as `{"errors": [...]}` where a program asked."""

import logging
import secrets
import traceback
from collections.abc import Awaitable, Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlsplit

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from jinja2 import Environment
from sqlalchemy import Engine
from sqlalchemy.exc import OperationalError
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from studio.book.engine import session
from studio.book.errors import BookError, NotFound
from studio.book.orders import order
from studio.book.transaction import in_words as book_error
from studio.craft.errors import Refused
from studio.papers.pool import Cause, PaperNotMade
from studio.web.book_errors import declined, more_of, number_of
from studio.web.errors import Declined, FieldError, FieldErrors, in_words
from studio.web.structure import structure_errors

LOG = logging.getLogger("studio.web")

_TITLES = {
    403: "Not open to you",
    404: "Nothing here",
    405: "Not done this way",
    408: "Too slow on its way",
    409: "It stands otherwise by now",
    413: "Too much at once",
    422: "Something to put right",
    429: "A moment, please",
    503: "The book is busy",
    507: "The disk is full",
}
_NOT_MADE = {
    Cause.TOO_SLOW: "The paper could not be made in time. Ask for it again, when less is printed.",
    Cause.TOO_BIG: "The paper asks for more memory than it may take. Shorten its longest texts.",
    Cause.INTERRUPTED: "The paper was interrupted while it was made. Ask for it again.",
}
_STARLETTE_WORDS = {
    400: "We could not read what was sent.",
    404: "There is nothing at this address.",
    405: "This address is not used in this way.",
}


@dataclass(frozen=True, slots=True)
class ErrorPage:
    """What an error page shows. `reference` is told to whoever looks after the program, else it is ''.

    `own_href` is the page that what was sent came from: the back button leads there, not into the
    browser's own words about sending again. '' where nothing was sent. `home` are the words of the link that
    leads on, to `home_href`: at the bench, where a PIN opens no other page, to its work.
    """

    title: str
    sentences: tuple[str, ...]
    reference: str = ""
    own_href: str = ""
    home: str = "Back to what is in hand"
    home_href: str = "/"


def answer(
    request: Request,
    status: int,
    errors: Sequence[FieldError],
    *,
    current: Mapping[str, object] | None = None,
    headers: Mapping[str, str] | None = None,
    reference: str = "",
    title: str = "",
) -> Response:
    """The error as its reader wants it; a page without sign-in leads there instead."""
    if is_for_program(request):
        shown: dict[str, object] = {"errors": [{"field": e.field, "message": e.message} for e in errors]}
        if current is not None:
            shown["current"] = dict(current)
        return JSONResponse(shown, status_code=status, headers=dict(headers or {}))
    if status == 401:
        return RedirectResponse(sign_in_address(request), status_code=303)
    title = title or _TITLES.get(status, "Something went wrong")
    own_href = "" if request.method in {"GET", "HEAD"} else _page_before(request)
    context = ErrorPage(title, tuple(error.message for error in errors), reference, own_href)
    if getattr(request.state, "is_at_bench", False):
        context = replace(context, home="Back to the bench", home_href="/bench")
    templates: Environment = request.app.state.templates
    shown_page = templates.get_template("errors/page.html").render(page=context, masthead=None)
    return HTMLResponse(shown_page, status_code=status, headers=dict(headers or {}))


def is_for_program(request: Request) -> bool:
    """Whether a program asks: under /api/, or with a bearer token."""
    path: str = request.scope["path"]
    return path.startswith("/api/") or "authorization" in request.headers


def sign_in_address(request: Request) -> str:
    """The sign-in page, which leads back to where a reader wanted to go; at the bench that of the PINs.

    What was sent from a page when the sign-in had ended leads back to that page, where the form was kept.
    """
    path: str = request.scope["path"]
    wanted = path if not request.url.query else f"{path}?{request.url.query}"
    if request.method != "GET":
        wanted = _page_before(request)
    way_in = "/bench/hands" if getattr(request.state, "asks_for_pin", False) else "/sign-in"
    return way_in if wanted == "/" else f"{way_in}?next={quote(wanted, safe='/')}"


def _page_before(request: Request) -> str:
    """The page of ours that a form was sent from, '/' where nobody says."""
    address = request.headers.get("referer", "")
    if host_of(address) != request.headers.get("host", "").lower():
        return "/"
    came_from = urlsplit(address)
    return f"{came_from.path}?{came_from.query}" if came_from.query else came_from.path or "/"


def host_of(address: str) -> str:
    """The host, with its port, that an address names; '' for what is no address."""
    try:
        return urlsplit(address).netloc.lower()
    except ValueError:
        return ""


async def on_declined(request: Request, error: Declined) -> Response:
    """What a route or the threshold declined, in its own words."""
    return answer(
        request,
        error.status_code,
        error.errors,
        current=error.current,
        headers=error.headers,
        title=error.title,
    )


async def on_http(request: Request, error: HTTPException) -> Response:
    """What the framework itself refuses: no such address, no such method."""
    words = _STARLETTE_WORDS.get(error.status_code, "This could not be done.")
    return answer(request, error.status_code, [FieldError(None, words)], headers=error.headers)


async def on_structure(request: Request, error: RequestValidationError) -> Response:
    """A body or an address that is not built as it should be. The input is never sent back."""
    return answer(request, 422, structure_errors(error.errors()))


async def on_fields(request: Request, error: FieldErrors) -> Response:
    """Fields to put right."""
    return answer(request, 422, error.errors)


async def on_refused(request: Request, error: Refused) -> Response:
    """What the trade refuses."""
    return answer(request, 422, in_words(error))


def on_book(request: Request, error: BookError) -> Response:
    """What the book refuses; a conflict says how the order stands now. Runs in a thread, as it reads."""
    found = declined(error)
    number = number_of(error)
    current = found.current
    if found.status_code == 409 and number is not None:
        current = _as_it_stands(request.app.state.engine, number, error)
    return answer(
        request, found.status_code, found.errors, current=current, headers=found.headers, title=found.title
    )


async def on_paper(request: Request, error: PaperNotMade) -> Response:
    """A paper that took too long or too much, or whose maker was interrupted. Nothing is changed by it."""
    words = f"{_NOT_MADE[error.cause]} Nothing was changed by it."
    return answer(
        request,
        503,
        [FieldError(None, words)],
        headers={"Retry-After": "5"},
        title="The paper is not made",
    )


def on_database(request: Request, error: OperationalError) -> Response:
    """A book that could not even be read, as somebody else held it. Any other failing is unforeseen."""
    known = book_error(error)
    if not isinstance(known, BookError):
        raise error
    return on_book(request, known)


def _as_it_stands(engine: Engine, number: str, error: BookError) -> Mapping[str, object] | None:
    try:
        with session(engine) as book:
            now = order(book, number)
    except NotFound:
        return None
    return {"number": now.number, "state": now.state, "version": now.version} | more_of(error, now)


def on_unforeseen(request: Request, error: Exception) -> Response:
    """A fault of ours: a reference for the reader, and for the log where it happened, without the data."""
    reference = secrets.token_hex(4)
    steps = traceback.extract_tb(error.__traceback__)
    where = " < ".join(
        f"{Path(step.filename).name}:{step.lineno} {step.name}" for step in reversed(steps[-12:])
    )
    LOG.error("reference %s: %s in %s", reference, type(error).__name__, where)
    words = f"Something went wrong on our side. Nothing half-done was saved. The reference is {reference}."
    return answer(request, 500, [FieldError(None, words)], reference=reference)


def add_answers(app: FastAPI) -> None:
    """Let every error that a route means to raise end in our answer; the threshold sees to the rest."""
    handlers: dict[type[Exception], Callable[[Request, Any], Response | Awaitable[Response]]] = {
        Declined: on_declined,
        HTTPException: on_http,
        RequestValidationError: on_structure,
        FieldErrors: on_fields,
        Refused: on_refused,
        BookError: on_book,
        OperationalError: on_database,
        PaperNotMade: on_paper,
    }
    app.exception_handlers.update(handlers)
