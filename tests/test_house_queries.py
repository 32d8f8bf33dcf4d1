"""What the pages ask of the book: few questions, stated for each page, and none that reads a whole table."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi.routing import APIRoute
from sqlalchemy import Engine, event
from starlette.routing import compile_path

from studio.book import engine as engines
from studio.book.amendments import amending_of, put_amending
from studio.book.answer_links import make_answer_link
from studio.book.bench_devices import add_device
from studio.book.bench_learning import with_learned
from studio.book.demo import OWNER, write_demo
from studio.book.links import enter_by_link, make_link
from studio.book.order_reads import order, orders_page
from studio.book.outwork_reads import slips_out
from studio.book.people import PROGRAM, user_named
from studio.book.practices import practice_on
from studio.book.schema import bring_up_to_date
from studio.book.studio import time_zone
from studio.clock import day_of
from studio.clock import now as this_moment
from studio.craft.designs import Pattern
from studio.craft.orders import State
from studio.settings import Settings
from studio.web.app import ROUTERS, create_app
from tests.asgi import InProcess
from tests.builders import PASSPHRASE
from tests.most_asked import BEFORE_SIGN_IN, LISTS, MOST, SMALL, WALKS


@dataclass(slots=True)
class Watched:
    """A demo and its owner's browser, with every statement that was put to the book."""

    engine: Engine
    client: httpx.Client
    stranger: httpx.Client
    tablet: httpx.Client
    names: dict[str, str]
    statements: list[tuple[str, Any]] = field(default_factory=list)

    def asked_by(self, path: str) -> list[tuple[str, Any]]:
        """The statements of the page at `path`, which must be there."""
        self.statements.clear()
        asks = self.stranger if path in BEFORE_SIGN_IN else self.client
        asks = self.tablet if path == "/bench/hands" else asks
        answer = asks.get(path.format_map(self.names))
        assert answer.status_code == httpx.codes.OK, answer.text
        return list(self.statements)

    def plan(self, statement: str, values: Any) -> list[str]:
        """How SQLite goes about a statement, step by step."""
        with self.engine.connect() as connection:
            steps = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {statement}", values)
            return [step.detail for step in steps]


@pytest.fixture(scope="module")
def watched(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watched]:
    home: Path = tmp_path_factory.mktemp("watched")
    engine = engines.open_book(f"sqlite:///{home / 'book.db'}")
    now = this_moment()
    bring_up_to_date(engine, now=now)
    with engines.session(engine) as session:
        write_demo(session, now=now)
        # what was learned is kept until a record is put down, so it is read once here
        today = day_of(now, time_zone(session))
        assert with_learned(session, today, practice_on(session, today)).learned != ()
        link = make_link(session, user_name=OWNER, actor=PROGRAM, now=now)
        key = enter_by_link(session, key=link, now=now, passphrase=PASSPHRASE).key
        owner = user_named(session, OWNER).actor
        device = add_device(session, name="Tablet", sign_in_key=None, actor=owner, now=now)
        unused = make_link(session, user_name="Ivo", actor=PROGRAM, now=now)
        lines = orders_page(session, limit=200, now=now).items
        number = next(line.number for line in lines if line.state == "agreed")
        quoted = [
            quote
            for line in lines
            if line.state == "quoted"
            for quote in order(session, line.number).quotes
            if quote.state == "open" and quote.expires_at > now
        ]
        agreed = order(session, number)
        begun = replace(amending_of(agreed), words="As told.")
        put_amending(session, number=number, version=agreed.version, amending=begun, actor=PROGRAM, now=now)
        answer = make_answer_link(session, number=quoted[0].number, actor=PROGRAM, now=now)
        choice = next(quote for quote in quoted if quote.variants)
        pictured = next(
            found
            for line in orders_page(session, state=State.AT_THE_BENCH, limit=200, now=now).items
            if (found := order(session, line.number)).pictures
        )
        papered = next(
            found
            for line in orders_page(session, state=State.AGREED, limit=200, now=now).items
            if (found := order(session, line.number)).documents
        )
        invoiced = next(found for line in lines if (found := order(session, line.number)).invoices)
        patterned = next(
            line.number
            for line in lines
            if order(session, line.number).rings[0].reckoning.design.pattern is not Pattern.PLAIN
        )
        draft = next(line.number for line in lines if line.state == "draft")
        slip = slips_out(session)[0].number
    with (
        InProcess(create_app(Settings(home=home), engine)) as transport,
        httpx.Client(
            transport=transport, base_url="http://127.0.0.1:8321", cookies={"shankwright": key}
        ) as client,
        httpx.Client(transport=transport, base_url="http://127.0.0.1:8321") as stranger,
        httpx.Client(
            transport=transport, base_url="http://127.0.0.1:8321", cookies={"shankwright-bench": device}
        ) as tablet,
    ):
        watched = Watched(
            engine,
            client,
            stranger,
            tablet,
            {
                "number": number,
                "draft": draft,
                "slip": slip,
                "patterned": patterned,
                "choice": choice.order_number,
                "amending": number,
                "answer": answer,
                "key": unused,
                "quote": quoted[0].number,
                "document": papered.documents[0].number,
                "invoice": invoiced.invoices[0].number,
                "month": f"{now:%Y-%m}",
                "pictured": pictured.number,
                "picture": str(pictured.pictures[0].id),
            },
        )

        @event.listens_for(engine, "before_cursor_execute")
        def note(_connection: Any, _cursor: Any, statement: str, values: Any, *_: Any) -> None:
            watched.statements.append((statement, values))

        yield watched
    engine.dispose()


def reads_a_whole_table(step: str) -> bool:
    """Whether a step of a plan walks a table of size row by row, and not along an index."""
    walked = re.fullmatch(r"SCAN (?!anon_)(\w+)( ROW)?", step)  # anon_1: what a step of its own has found
    return walked is not None and walked.group(1) not in SMALL


@pytest.mark.parametrize("path", dict.fromkeys((*LISTS, *MOST)))
def test_no_page_reads_a_whole_table(watched: Watched, path: str) -> None:
    asked = [(words, values) for words, values in watched.asked_by(path) if words.startswith("SELECT")]
    assert asked or path not in LISTS
    plans = {words: watched.plan(words, values) for words, values in asked}
    found = {step: words for words, plan in plans.items() for step in plan if reads_a_whole_table(step)}
    assert {step for step in found if step.split()[1] not in WALKS.get(path, ())} == set(), found


def test_a_question_without_an_index_would_be_noticed(watched: Watched) -> None:
    plan = watched.plan("SELECT id FROM orders WHERE note = 'x'", ())
    assert [reads_a_whole_table(step) for step in plan] == [True]


@pytest.mark.parametrize("path", MOST)
def test_a_page_asks_no_more_than_it_may(watched: Watched, path: str) -> None:
    asked = [words for words, _ in watched.asked_by(path)]
    assert len(asked) <= MOST[path], "\n".join(asked)
    assert bool(asked) == bool(MOST[path])


def test_every_page_has_its_count() -> None:
    """A page that is added stands in the table too; the static files, which no book holds, need not."""
    routes = [route for router in ROUTERS for route in router.routes if isinstance(route, APIRoute)]
    patterns = {route.path: compile_path(route.path)[0] for route in routes if "GET" in (route.methods or ())}
    pages = set(patterns) - {"/static/{path:path}"}
    counted = [
        path.partition("?")[0].format(
            number="2026-1",
            draft="2026-2",
            slip="2026-4-w1",
            patterned="2026-5",
            amending="2026-4",
            answer="key",
            choice="2026-3",
            quote="2026-1-q1",
            document="2026-1-c1",
            invoice="2026-0001",
            month="2026-11",
            key="key",
            pictured="2026-1",
            picture="1",
        )
        for path in MOST
    ]
    # as the app goes about it: the first that fits, and /orders/new stands before /orders/{number}
    met = {next(page for page in patterns if patterns[page].match(path)) for path in counted}
    assert pages - met == set()
