"""Issuing a quote or a document: prepared in a thread, its paper made while no thread waits, then written."""

from asyncio import Lock, sleep
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import Generic, TypeVar
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

Draft = TypeVar("Draft")
Prepare = Callable[[Session], QuoteDraft]
"""Drafts a quote out of the book as it stands, without writing anything."""
MOST_TRIES = 25
"""How often a quote is prepared anew because somebody changed the order while its paper was made."""
FIRST_PAUSE_S, LONGEST_PAUSE_S = 0.01, 0.25
_in_turn: WeakValueDictionary[tuple[int, str], Lock] = WeakValueDictionary()
"""Whose turn it is, by book and order: two papers of one order made at once would spoil one another."""


@dataclass(frozen=True, slots=True)
class Issue(Generic[Draft]):
    """How something is issued: drafted out of the book, printed from the draft, written down with its PDF.

    `write` raises `VersionStale` where the book has moved on since; then all begins anew.
    """

    prepare: Callable[[Session], Draft]
    to_print: Callable[[Draft], Paper]
    write: Callable[[Session, Draft, bytes], Answer]


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
    """The answer to a request that issues the quote that `prepare` drafts: see `printed_and_written`."""

    def write(book: Session, draft: QuoteDraft, pdf: bytes) -> Answer:
        return answer(issue_quote(book, draft=draft, pdf=pdf, actor=seat.actor, now=seat.now))

    issue = Issue(prepare, lambda draft: quote_to_print(paper_of(draft)), write)
    return await printed_and_written(request, seat, number, issue, form_key=form_key)


async def printed_and_written(
    request: Request, seat: Seat, number: str, issue: Issue[Draft], *, form_key: object = None
) -> Response:
    """The answer to a request that issues something of the order `number`, once under its key.

    No session is held while the paper is made. Requests for the same order take turns. Where the order
    changed meanwhile it is prepared again, after a pause that grows, at most 25 times. Nobody who asks for
    a paper names a version, so in the end the book is busy (`BookBusy`). Raises what `issue.prepare` raises.
    """
    turn = _in_turn.setdefault((id(seat.engine), number), Lock())
    async with turn:
        return await _tried(request, seat, issue, form_key=form_key)


async def _tried(request: Request, seat: Seat, issue: Issue[Draft], *, form_key: object) -> Response:
    for tried in range(MOST_TRIES):
        await sleep(min(FIRST_PAUSE_S * tried, LONGEST_PAUSE_S))
        prepared = await run_in_threadpool(_prepared, request, seat, issue, form_key)
        if isinstance(prepared, Response):
            return prepared
        draft, to_print = prepared
        pdf = await printer_of(request).pdf(to_print)
        with suppress(VersionStale):
            return await run_in_threadpool(
                _written, request, seat, issue, draft=draft, pdf=pdf, form_key=form_key
            )
    raise BookBusy


def _prepared(
    request: Request, seat: Seat, issue: Issue[Draft], form_key: object
) -> tuple[Draft, Paper] | Response:
    """What is to be written down and printed, or the answer that was given under this key before."""
    with session(seat.engine) as book:
        before = done_before(request, seat, book, form_key=form_key)
        if before is not None:
            return before
        draft = issue.prepare(book)
    return draft, issue.to_print(draft)


def _written(
    request: Request, seat: Seat, issue: Issue[Draft], *, draft: Draft, pdf: bytes, form_key: object
) -> Response:
    with session(seat.engine) as book:
        return do_once(request, seat, book, lambda: issue.write(book, draft, pdf), form_key=form_key)
