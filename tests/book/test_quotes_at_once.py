"""Several people quote the same order at the same moment."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from threading import Barrier

from sqlalchemy import Engine

from studio.book import engine as engines
from studio.book.errors import BookBusy, VersionStale
from studio.book.people import PROGRAM
from studio.book.quotes import QuoteDraft, QuoteState, issue_quote, quotable, quotes_of
from tests.builders import NOW, an_order
from tests.quoting import PDF, put_figures


def test_of_quotes_issued_at_once_each_revision_is_made_once(engine: Engine) -> None:
    with engines.session(engine) as session:
        put_figures(session)
        an_order(session)
    barrier = Barrier(4)

    def read() -> QuoteDraft:
        with engines.session(engine) as session:
            return quotable(session, "2026-1", now=NOW)

    def written(draft: QuoteDraft) -> str:
        """The number of the quote; a book that others are writing in is asked again with the same draft."""
        for _ in range(20):
            with suppress(BookBusy), engines.session(engine) as session:
                return issue_quote(session, draft=draft, pdf=PDF, actor=PROGRAM, now=NOW).number
        raise AssertionError("the book never came free")

    def issue(_: int) -> list[str]:
        draft, lost = read(), list[str]()
        barrier.wait()  # nobody writes before all four have read, and nobody reads on meanwhile
        while True:
            try:
                return [*lost, written(draft)]
            except VersionStale:
                lost.append("")
                assert len(lost) <= 3, "a race is lost only to somebody who won it"
                draft = read()

    with ThreadPoolExecutor(4) as pool:
        told = list(pool.map(issue, range(4)))
    numbers = sorted(tries[-1] for tries in told)
    assert numbers == [f"2026-1-q{revision}" for revision in range(1, 5)]
    assert sum(len(tries) == 1 for tries in told) == 1  # all four had read the same version
    with engines.session(engine) as session:
        states = [found.state for found in quotes_of(session, "2026-1")]
        assert states == [QuoteState.SUPERSEDED] * 3 + [QuoteState.OPEN]
