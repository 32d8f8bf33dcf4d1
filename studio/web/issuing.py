"""Issuing a quote: prepared in a thread, its paper made while no thread waits, written down in a thread."""

from collections.abc import Callable
from functools import partial

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.errors import VersionStale
from studio.book.idempotency import Answer
from studio.book.quote_paper import paper_of
from studio.book.quotes import Quote, QuoteDraft, QuoteTerms, issue_quote, quotable
from studio.papers.quote import quote_pdf
from studio.papers.render import made
from studio.web.once import do_once, done_before
from studio.web.security import Seat

MOST_TRIES = 3
"""How often a quote is prepared anew because somebody changed the order while its paper was made."""


async def issued(
    request: Request,
    seat: Seat,
    number: str,
    terms: QuoteTerms,
    answer: Callable[[Quote], Answer],
    *,
    form_key: object = None,
) -> Response:
    """The answer to a request that issues a quote of the order `number`, given once under its key.

    No session is held while the paper is made. Where the order changed meanwhile the quote is prepared
    again, at most three times; then the book's `VersionStale` stands. Raises what `quotable` raises.
    """
    for tries_left in reversed(range(MOST_TRIES)):
        prepared = await run_in_threadpool(_prepared, request, seat, number, terms, form_key)
        if isinstance(prepared, Response):
            return prepared
        draft = prepared
        paper = await made(partial(_paper, draft))
        try:
            return await run_in_threadpool(
                _written, request, seat, draft, paper=paper, answer=answer, form_key=form_key
            )
        except VersionStale:
            if not tries_left:
                raise
    raise RuntimeError("a quote was neither issued nor refused")


def _prepared(
    request: Request, seat: Seat, number: str, terms: QuoteTerms, form_key: object
) -> QuoteDraft | Response:
    """What is to be printed, or the answer that was given under this key before."""
    with session(seat.engine) as book:
        before = done_before(request, seat, book, form_key=form_key)
        return before or quotable(book, number, terms=terms, now=seat.now)


def _paper(draft: QuoteDraft) -> bytes:
    return quote_pdf(paper_of(draft))


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
