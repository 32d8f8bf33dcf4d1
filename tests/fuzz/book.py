"""The book the played requests meet: orders in every state, quotes open, agreed and taken over by another."""

import secrets
import shutil
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, closing
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

import httpx
from fastapi import FastAPI
from sqlalchemy import Engine
from sqlmodel import Session

from studio import clock
from studio.book.customers import CustomerDraft
from studio.book.demo_old_gold import old_gold_in_demo
from studio.book.document_values import TakingIn
from studio.book.documents import confirmable, issue_document, receivable
from studio.book.engine import open_book, session
from studio.book.orders import Order, order
from studio.book.outwork import Sending, add_outworker, send_out
from studio.book.outwork_reads import Slip
from studio.book.people import PROGRAM
from studio.book.quotes import quote_breakdown
from studio.book.rates import put_rates
from studio.book.variants import add_variant
from studio.craft.money import from_minor
from studio.craft.orders import State
from studio.craft.outwork import Trade
from studio.craft.particulars import Inscription, Particulars
from studio.craft.rates import Extra
from studio.craft.roles import Role
from studio.web.app import create_app
from tests import quoting
from tests.asgi import InProcess
from tests.builders import a_narrowly_measured_ring, a_ring, an_order, one_step
from tests.buying import a_purchase
from tests.invoicing import invoiced, on_account, says
from tests.postgresql.copies import restoring
from tests.postgresql.server import Server
from tests.web.house import BASE_URL, file_url, make_book, settings
from tests.web.quoting import give_an_address

PHONE, EMAIL = "01632 960 487", "ottilie@marchbanks.example"
RATES = replace(
    quoting.RATES, labour_hour_minor=47_39, consumables_minor=61_83, margin_percent=Decimal("31.37"),
    premium_percent=Decimal("13.71"), overhead_percent=Decimal("27.53"), assay_minor=13_27,
    extra_margin_percent={Extra.ASSAY: Decimal("17.19")}, step_minor=0, deposit_percent=Decimal("38.11"),
)  # fmt: skip
"""Odd on purpose: an amount that comes of them stands nowhere by chance."""


@dataclass(frozen=True, slots=True)
class Known:
    """What stands in the book, and what of it not everybody may read, as text."""

    versions: Mapping[str, int]
    quotes: tuple[str, ...]
    open_quotes: tuple[str, ...]
    documents: tuple[str, ...]
    slips: tuple[str, ...]
    invoices: tuple[str, ...]
    to_invoice: tuple[str, ...]
    on_account: tuple[str, ...]
    customers: tuple[int, ...]
    inscribed: str
    contact: frozenset[str]
    charged: frozenset[str]
    earned: frozenset[str]

    @property
    def orders(self) -> tuple[str, ...]:
        """Their numbers."""
        return tuple(self.versions)


@dataclass(frozen=True, slots=True)
class Studio:
    """The app over a book that is as it was made at the start of every request."""

    known: Known
    tokens: Mapping[Role | None, str]
    engine: Engine
    app: FastAPI
    transport: InProcess
    as_made: Callable[[], None]
    """Puts the book back to how it was made; a request must not hang on what was sent before it."""
    ends: ExitStack

    def send(self, request: httpx.Request) -> httpx.Response:
        """The app's answer."""
        answer = self.transport.handle_request(request)
        answer.request, answer.elapsed = request, timedelta()
        return answer


def open_studio(home: Path, server: Server | None = None) -> Studio:
    """Make the book, in `home` or in a server, and open the app over it; `close_studio` ends it."""
    url = file_url(home) if server is None else server.make(f"played_{secrets.token_hex(4)}")
    tokens, _ = make_book(home, url)
    engine = open_book(url)
    with session(engine) as book:
        known = fill(book)
    engine.dispose()
    ends = ExitStack()
    as_made = _file_restorer(home) if server is None else _server_restorer(server, engine, ends)
    # Nobody listens there, and nothing is sent: letters stay in the outbox of an app that is not served.
    mail = {"smtp_host": "127.0.0.1", "smtp_security": "none", "smtp_port": 9}
    app = create_app(settings(home, **mail), engine)
    transport = InProcess(app)
    ends.callback(engine.dispose)
    ends.callback(transport.close)
    return Studio(known, _with_nobody(tokens), engine, app, transport, as_made, ends)


def _file_restorer(home: Path) -> Callable[[], None]:
    shutil.copy(home / "book.db", home / "made.db")

    def as_made() -> None:
        # SQLite's own copying, not the file's: it takes along what stands in the write-ahead log.
        with (
            closing(sqlite3.connect(home / "made.db")) as made,
            closing(sqlite3.connect(home / "book.db")) as book,
        ):
            made.backup(book)

    return as_made


def _server_restorer(server: Server, engine: Engine, ends: ExitStack) -> Callable[[], None]:
    name = str(engine.url.database)
    rows = restoring(server, name)
    keeper = ends.enter_context(server.keeper(name))

    def as_made() -> None:
        keeper.execute(rows)

    return as_made


def _with_nobody(tokens: Mapping[Role, str]) -> dict[Role | None, str]:
    by_role: dict[Role | None, str] = {None: "nobody-made-this-token"}
    by_role.update(tokens.items())
    return by_role


def close_studio(opened: Studio) -> None:
    """End the app's loop and let go of the book."""
    opened.ends.close()


def base_url() -> str:
    """Where the app is spoken to."""
    return BASE_URL


def fill(book: Session) -> Known:
    """Write the orders and their quotes into a book of people alone; gives what stands in it then."""
    now = clock.now()
    today, before = clock.day_of(now, "Europe/London"), now - timedelta(days=5)
    give_an_address(book)  # letters are written from it
    quoting.put_figures(book, on=before.date(), now=before)
    put_rates(book, rates=RATES, actor=PROGRAM, now=before)
    whose = CustomerDraft("Ottilie Marchbanks", PHONE, EMAIL)

    def taken(**facts: Any) -> Order:
        days = {
            "wanted_on": today + timedelta(days=200),
            "bench_on": today + timedelta(days=60),
            "now": before,
        }
        return an_order(book, **({"customer": whose} | days | facts))

    cut = a_ring(particulars=Particulars(inscription=Inscription("Ada & Jon", is_read_back=True)))
    lacking = taken(customer=CustomerDraft("Ned"), wanted_on=None, bench_on=None, rings=[cut])
    orders = [taken(rings=[a_ring(), a_narrowly_measured_ring()]), lacking, taken(state=State.CALLED_OFF)]
    choice = orders[0]
    orders[0] = add_variant(book, number=choice.number, version=1, actor=PROGRAM, now=before)
    quotes = [quoting.a_quote(book, taken(), now=before, valid_days=1)]  # it has run out since
    quotes.append(quoting.a_quote(book, taken(), now=now))
    quotes.append(quoting.a_quote(book, order(book, quotes[-1].order_number), now=now))
    quotes.append(quoting.a_quote(book, taken(), now=now))
    quoting.a_yes(book, quotes[-1], now=now, deposit_minor=None)
    for ways in reversed(_WAYS_ON):  # the last one is agreed, and can be amended
        plan = {} if ways else {"bench_on": today}  # one sheet this week: papers are slow to make
        quotes.append(quoting.a_quote(book, taken(**plan), now=now))
        stands = quoting.a_yes(book, quotes[-1], now=now)
        for step in ways:
            stands = one_step(book, stands, step, now=now)
    amended = quoting.an_amendment(book, stands, now=now)
    off = quoting.a_yes(book, quoting.a_quote(book, taken(), now=now), now=now)
    orders.insert(0, one_step(book, off, State.CALLED_OFF, now=now))
    documents = tuple(papers(book, stands.number, now))
    says(book)
    old_gold_in_demo(book, actor=PROGRAM, now=now)
    for things in (3, 1):
        a_purchase(book, things)
    paid, ready = quotes[-2].order_number, quotes[-3].order_number
    invoices = [invoiced(book, ready, now=now).number, on_account(book, f"{paid}-p1", now=now).number]
    numbers = [*(one.number for one in orders), *dict.fromkeys(quote.order_number for quote in quotes)]
    charged, earned = _amounts(book, [quote.number for quote in quotes])
    stand = [order(book, number) for number in numbers]
    return Known(
        {one.number: one.version for one in stand},
        (*(quote.number for quote in quotes), amended.number),
        tuple(quote.number for quote in quotes[:4]),
        documents,
        (a_slip(book, stands.number, now).number,),
        tuple(invoices),
        tuple(quote.order_number for quote in (quotes[-4], quotes[-2], quotes[-1])),
        (f"{quotes[-1].order_number}-p1",),
        tuple({one.customer.id for one in stand}),
        lacking.number,
        frozenset({PHONE, PHONE.replace(" ", ""), EMAIL}),
        charged,
        earned,
    )


def papers(book: Session, number: str, now: datetime) -> Iterator[str]:
    """The numbers of an agreed order's confirmation, and of a receipt for goods that are still held."""
    receipt = receivable(book, number, asked=TakingIn(words="An old ring"), actor=PROGRAM, now=now)
    for draft in (confirmable(book, number, now=now), receipt):
        yield issue_document(book, draft=draft, pdf=None, actor=PROGRAM, now=now).number


def a_slip(book: Session, number: str, now: datetime) -> Slip:
    """The goods of an agreed order, out of the house."""
    worker = add_outworker(book, name="Hale", trade=Trade.OTHER, actor=PROGRAM, now=now)
    due_on = clock.day_of(now, "Europe/London") + timedelta(days=9)
    sending = Sending((f"{number}-r1/1",), worker.id, "Melt it.", 18_000, due_on)
    return send_out(book, number=number, sending=sending, actor=PROGRAM, now=now)


_WAYS_ON: tuple[tuple[State, ...], ...] = (
    (),
    (State.AT_THE_BENCH,),
    (State.AT_THE_BENCH, State.READY),
    (State.AT_THE_BENCH, State.READY, State.HANDED_OVER),
)
"""How far the orders with a paid deposit have come."""


def _amounts(book: Session, quotes: list[str]) -> tuple[frozenset[str], frozenset[str]]:
    """What the customers are charged, and what it costs and earns, as an answer might spell it."""
    charged, earned = set[int](), {RATES.labour_hour_minor, RATES.consumables_minor, RATES.assay_minor}
    for number in quotes:
        price = quote_breakdown(book, number)
        charged |= {price.net_minor, price.tax_minor, price.total_minor, price.deposit_minor}
        charged |= {line.net_minor for line in price.lines}
        earned |= {price.cost_minor, price.margin_minor}
        for ring in price.rings:
            earned |= {ring.metal_minor, ring.labour_minor, ring.overhead_minor, ring.margin_minor}
            earned |= {ring.cost_minor, ring.own_minor}
    return _spelt(charged), _spelt(earned - charged)


def _spelt(amounts: set[int]) -> frozenset[str]:
    """Amounts of a hundred and more, as minor units, with a point, and with a comma at the thousands."""
    told = [(minor, from_minor(minor, "GBP")) for minor in amounts if minor >= 10_000]
    return frozenset(
        spelling for minor, amount in told for spelling in (str(minor), f"{amount:.2f}", f"{amount:,.2f}")
    )
