"""Issuing a quote: prepared in a thread, its paper made while no thread waits, written down in a thread."""

from asyncio import Lock, sleep
from collections.abc import Callable
from contextlib import suppress
from weakref import WeakValueDictionary

from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.errors import BookBusy, VersionStale
from studio.book.idempotency import Answer
from studio.book.quote_paper import paper_of
from studio.book.quotes import Quote, QuoteDraft, QuoteTerms, issue_quote, quotable
from studio.papers.paper import Paper
from studio.papers.quote import quote_to_print
from studio.web.once import do_once, done_before
from studio.web.printing import printer_of
from studio.web.security import Seat

Prepare = Callable[[Session], QuoteDraft]
"""Drafts a quote out of the book as it stands, without writing anything."""
MOST_TRIES = 25
"""How often a quote is prepared anew because somebody changed the order while its paper was made."""
FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.01, 0.25
_in_turn: WeakValueDictionary[tuple[int, str], Lock] = WeakValueDictionary()
"""Whose turn it is, by book and order: two papers of one order made at once would spoil one another."""


async def issued(
    request: Request,
    seat: Seat,
    number: str,
    terms: QuoteTerms,
    answer: Callable[[Quote], Answer],
    *,
    form_key: object = None,
) -> Response:
    """The answer to a request that issues a quote of the order `number` by these terms: see `issued_by`."""

    def prepare(book: Session) -> QuoteDraft:
        return quotable(book, number, terms=terms, now=seat.now)

    return await issued_by(request, seat, number, prepare, answer, form_key=form_key)


async def issued_by(
    request: Request,
    seat: Seat,
    number: str,
    prepare: Prepare,
    answer: Callable[[Quote], Answer],
    *,
    form_key: object = None,
) -> Response:
    """The answer to a request that issues what `prepare` drafts of the order `number`, once under its key.

    No session is held while the paper is made. Requests for the same order take turns. Where the order
    changed meanwhile the quote is prepared again, after a pause that grows, at most 25 times. Nobody who
    asks for a quote names a version, so in the end the book is busy (`BookBusy`). Raises what `prepare`
    raises.
    """
    turn = _in_turn.setdefault((id(seat.engine), number), Lock())
    async with turn:
        return await _tried(request, seat, prepare, answer, form_key=form_key)


async def _tried(
    request: Request,
    seat: Seat,
    prepare: Prepare,
    answer: Callable[[Quote], Answer],
    *,
    form_key: object,
) -> Response:
    for tried in range(MOST_TRIES):
        await sleep(min(FIRST_PAUSE_S * tried, LONGEST_PAUSE_S))
        prepared = await run_in_threadpool(_prepared, request, seat, prepare, form_key)
        if isinstance(prepared, Response):
            return prepared
        draft, to_print = prepared
        paper = await printer_of(request).pdf(to_print)
        with suppress(VersionStale):
            return await run_in_threadpool(
                _written, request, seat, draft, paper=paper, answer=answer, form_key=form_key
            )
    raise BookBusy


def _prepared(
    request: Request, seat: Seat, prepare: Prepare, form_key: object
) -> tuple[QuoteDraft, Paper] | Response:
    """What is to be written down and printed, or the answer that was given under this key before."""
    with session(seat.engine) as book:
        before = done_before(request, seat, book, form_key=form_key)
        if before is not None:
            return before
        draft = prepare(book)
    return draft, quote_to_print(paper_of(draft))


def _written(
    request: Request,
    seat: Seat,
    draft: QuoteDraft,
    *,
    paper: bytes,
    answer: Callable[[Quote], Answer],
    form_key: object,
) -> Response:
    with session(seat.engine) as book:
        return do_once(
            request,
            seat,
            book,
            lambda: answer(issue_quote(book, draft=draft, pdf=paper, actor=seat.actor, now=seat.now)),
            form_key=form_key,
        )
