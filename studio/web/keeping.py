"""Keeping what was typed in a form: once, and where it cannot be kept the page comes back with it."""

from collections.abc import Callable, Mapping

from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.errors import VersionStale
from studio.book.idempotency import Answer
from studio.craft.errors import Refused
from studio.web.errors import FieldErrors, in_words
from studio.web.many_forms import meanwhile
from studio.web.once import do_once
from studio.web.security import Seat
from studio.web.sent_back import Said, to_put_right


def keep(
    request: Request,
    seat: Seat,
    typed: Mapping[str, object],
    *,
    texts: dict[str, str],
    words: Mapping[str, str],
    href: str,
    work: Callable[[Session], None],
    again: Callable[[Said, int], Response],
    stands: Callable[[Session], Mapping[str, str]] = lambda _: {},
    heading: str = "",
) -> Response:
    """Do `work` at most once and lead to `href`.

    What is to be put right, 422, and what somebody else changed in between, 409, come back by `again` with
    the `texts` that were typed; the latter under `heading`, beside the fields as `stands` reads them by now.
    `words` are the fields' own. Where nothing that stands is changed, nobody can have been there first, and
    both are left out.
    """

    def once(book: Session) -> Answer:
        work(book)
        return Answer(303, "", href)

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: once(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        return again(to_put_right(found.errors, texts), 422)
    except Refused as refused:
        return again(to_put_right(in_words(refused), texts), 422)
    except VersionStale:
        with session(seat.engine) as book:
            now = stands(book)
        return again(meanwhile(heading, words, texts, now), 409)
