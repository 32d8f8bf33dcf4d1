"""What is sent twice is done once: a double press of a button, a request repeated after a lost answer."""

import re
from collections.abc import Callable

from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from studio.book.idempotency import Answer, kept, once
from studio.web.bodies import fingerprint
from studio.web.errors import Declined
from studio.web.security import Seat

_KEY = re.compile(r"[\x21-\x7e]{1,64}")


def do_once(
    request: Request, seat: Seat, book: Session, work: Callable[[], Answer], *, form_key: object = None
) -> Response:
    """The answer of `work`, done at most once under the request's idempotency key.

    The key is the header Idempotency-Key, or `form_key`, what a page's form carries in its hidden field
    `idempotency_key`. Without either the work is just done. The same key with another request is 409.
    """
    key = request_key(request, form_key)
    if key is None:
        return as_response(work())
    told = _fingerprint(request)
    return as_response(once(book, key=key, actor=seat.actor, fingerprint=told, now=seat.now, work=work))


def done_before(request: Request, seat: Seat, book: Session, *, form_key: object = None) -> Response | None:
    """The answer already given under the request's idempotency key, None where there is none yet.

    For a route that prepares something long before `do_once`; the same key with another request is 409.
    """
    key = request_key(request, form_key)
    found = None if key is None else kept(book, key=key, actor=seat.actor, fingerprint=_fingerprint(request))
    return None if found is None else as_response(found)


def request_key(request: Request, form_key: object = None) -> str | None:
    """The idempotency key that was sent; 422 for one that is not 1 to 64 visible characters."""
    key = request.headers.get("idempotency-key")
    if key is None:
        key = form_key if isinstance(form_key, str) and form_key else None
    if key is not None and not _KEY.fullmatch(key):
        raise Declined(
            422, "An idempotency key is 1 to 64 visible characters without spaces.", field="Idempotency-Key"
        )
    return key


def as_response(answer: Answer) -> Response:
    """The kept answer as it is sent: a redirect where it leads somewhere, else JSON."""
    if answer.location is not None and 300 <= answer.status < 400:
        return RedirectResponse(answer.location, status_code=answer.status)
    headers = {} if answer.location is None else {"Location": answer.location}
    return Response(answer.body, status_code=answer.status, media_type="application/json", headers=headers)


def _fingerprint(request: Request) -> str:
    told: str | None = getattr(request.state, "fingerprint", None)
    return told or fingerprint(request.method, request.url.path, "")
