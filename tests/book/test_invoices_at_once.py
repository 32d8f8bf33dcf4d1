"""Many make invoices at the same moment: every number is given once, and none is left out."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from threading import Barrier
from time import monotonic, sleep

from sqlalchemy import Engine, text
from sqlmodel import Session

from studio.book import engine as engines
from studio.book.errors import BookBusy
from studio.book.invoice_errors import InvoicedAlready
from studio.book.invoice_reads import invoices_between
from studio.book.invoices import issue_invoice
from studio.book.people import PROGRAM
from studio.craft.invoicing import InvoiceKind
from tests.builders import NOW, TODAY, an_order
from tests.invoicing import credited
from tests.quoting import a_quote, a_yes, put_figures

AT_ONCE = 8
EACH = 3
PATIENCE_SECONDS = 120


def made(session: Session, number: str) -> str:
    """The number of the order's invoice, which is credited for the next to be made; '' for a lost race."""
    try:
        found = issue_invoice(session, number=number, actor=PROGRAM, now=NOW)
    except InvoicedAlready:
        return ""
    credited(session, found.number)
    return found.number


def test_eight_at_once_make_invoices_without_a_gap(engine: Engine) -> None:
    with engines.session(engine) as session:
        put_figures(session)
        orders = [
            a_yes(session, a_quote(session, an_order(session)), deposit_minor=None).number
            for _ in range(AT_ONCE // 2)
        ]
    barrier = Barrier(AT_ONCE)

    def make(turn: int) -> int:
        barrier.wait()
        done, until = 0, monotonic() + PATIENCE_SECONDS
        while monotonic() < until:
            if done == EACH:
                return done
            with suppress(BookBusy), engines.session(engine) as session:
                done += bool(made(session, orders[turn % len(orders)]))
            sleep(0.002)  # the other one with this order comes first, where it waits to credit its invoice
        raise AssertionError("the book never came free")

    with ThreadPoolExecutor(AT_ONCE) as pool:
        assert list(pool.map(make, range(AT_ONCE))) == [EACH] * AT_ONCE
    with engines.session(engine) as session:
        found = invoices_between(session, TODAY, TODAY)
        last = session.connection().execute(text("SELECT last FROM invoice_counters")).scalar_one()
    count = 2 * EACH * AT_ONCE
    assert last == len(found) == count
    assert sorted(one.number for one in found) == [f"2026-{serial:04d}" for serial in range(1, count + 1)]
    assert sum(one.kind is InvoiceKind.CREDIT_NOTE for one in found) == count // 2
    assert sum(one.taxed.gross_minor for one in found) == 0
