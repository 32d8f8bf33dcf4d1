"""Books of every earlier revision, with something in each of their tables, come up with all they held."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import httpx
import pytest
from sqlalchemy import Engine

from studio.book.engine import open_book, session
from studio.book.idempotency import Answer, once
from studio.book.orders import order
from studio.book.people import PROGRAM, Actor
from studio.book.schema import bring_up_to_date, faults, head_revision, revision
from studio.book.sign_in import sign_in
from studio.clock import day_of
from studio.clock import now as this_moment
from studio.craft.designs import Profile, System
from studio.craft.orders import State
from studio.craft.roles import Role
from studio.settings import Settings
from studio.web.app import create_app
from tests.asgi import InProcess
from tests.builders import NOW
from tests.migrations.old_books import (
    FIRST_RELEASE,
    OWNERS_PASSPHRASE,
    REVISIONS,
    TOKENS,
    Held,
    fill,
    held,
    old_book,
    shape,
    step_to,
)
from tests.postgresql.both import POSTGRESQL, SQLITE
from tests.quoting import a_quote, put_figures

SOME = sorted({*REVISIONS[:-1:5], REVISIONS[-2]})
"""Revisions to start from where each one alone would tell nothing more."""
STARTS = [*((SQLITE, start) for start in REVISIONS[:-1]), *((POSTGRESQL, start) for start in SOME)]
"""In a server every fifth: that each step is right there, `test_each_revision_alone…` tells."""
NUMBERS = [f"2026-{serial}" for serial in range(1, 12)]


def column(book: Held, table: str, name: str) -> list[object]:
    """What stands in one column."""
    columns, rows = book[table]
    place = columns.index(name)
    return [row[place] for row in rows]


def test_the_first_release_is_told_with_all_it_knew(file_book: Engine) -> None:
    old_book(file_book, FIRST_RELEASE)
    book = held(file_book)
    assert set(column(book, "orders", "state")) == set(State)
    assert set(column(book, "rings", "profile")) == set(Profile)
    assert set(column(book, "fingers", "system")) == set(System) - {System.HK, System.IN}  # came with 0014
    assert set(column(book, "fingers", "measured")) == {"gauge", "ring", "told"}
    assert set(column(book, "rings", "pattern")) == {"plain", "hammered", "stamped", "rolled"}


@pytest.mark.parametrize(("empty", "start"), STARTS, indirect=["empty"])
def test_an_old_book_comes_up_with_every_value(empty: Engine, start: str) -> None:
    old_book(empty, start)
    assert revision(empty) == start
    before = held(empty)
    assert [table for table, (_, rows) in before.items() if not rows] == []
    assert faults(empty) == []
    copy = bring_up_to_date(empty, now=NOW)
    assert revision(empty) == head_revision()
    assert held(empty, before) == before
    assert faults(empty) == []
    assert (copy is None) == (empty.dialect.name == "postgresql")


def test_each_revision_alone_keeps_what_the_one_before_held(empty: Engine) -> None:
    filled: set[str] = set()
    for step in REVISIONS:
        before = held(empty)
        step_to(empty, step)
        assert revision(empty) == step
        assert not before or held(empty, before) == before
        filled |= fill(empty, but=filled)
    assert [table for table, (_, rows) in held(empty).items() if not rows] == []


@pytest.mark.parametrize("start", SOME)
def test_the_copy_made_before_opens_and_is_the_old_book(
    file_book: Engine, tmp_path: Path, start: str
) -> None:
    old_book(file_book, start)
    before, its_shape = held(file_book), shape(file_book)
    copy = bring_up_to_date(file_book, now=NOW)
    assert copy == tmp_path / f"book.before-{head_revision()}.20261125-100000.db"
    kept = open_book(f"sqlite:///{copy}")
    assert (revision(kept), held(kept), shape(kept)) == (start, before, its_shape)
    assert faults(kept) == []
    bring_up_to_date(kept, now=NOW)  # and it comes up itself
    assert held(kept) == held(file_book)
    kept.dispose()


@pytest.fixture
def brought_up(empty: Engine) -> Engine:
    """The book of the first release, brought up to today."""
    old_book(empty, FIRST_RELEASE)
    bring_up_to_date(empty, now=NOW)
    return empty


@pytest.fixture
def owner(brought_up: Engine, tmp_path: Path) -> Iterator[httpx.Client]:
    """The owner's browser, with the passphrase of old."""
    with session(brought_up) as book:
        key = sign_in(
            book, name="signe alder", passphrase=OWNERS_PASSPHRASE, address="192.0.2.8", now=this_moment()
        ).key
    with (
        InProcess(create_app(Settings(home=tmp_path), brought_up)) as transport,
        httpx.Client(
            transport=transport, base_url="http://127.0.0.1:8321", cookies={"shankwright": key}
        ) as client,
    ):
        yield client


def test_the_pages_of_an_old_book_open(owner: httpx.Client) -> None:
    pages = ["/", "/orders", "/orders/new", "/customers", "/week?from=2026-11-23", "/studio"]
    pages += [f"/orders/{number}" for number in NUMBERS]
    pages += [f"/orders/{number}/rings/1" for number in ("2026-9", "2026-10", "2026-11")]
    pages += [f"/customers/{customer}" for customer in range(1, 10)]
    for page in pages:
        answer = owner.get(page)
        assert answer.status_code == httpx.codes.OK, (page, answer.text)
    told = owner.get("/orders/2026-2").text
    assert "Jörg O&#39;Dell" in told
    assert "Only the narrow gauge was at hand" in told


def test_the_papers_of_an_old_book_are_made(owner: httpx.Client) -> None:
    sheet = owner.get("/orders/2026-2/bench-sheet.pdf")
    assert (sheet.status_code, sheet.content[:5]) == (httpx.codes.OK, b"%PDF-")


def test_the_tokens_of_old_still_open_the_api(owner: httpx.Client) -> None:
    for role, token in TOKENS.items():
        told = owner.get("/api/orders/2026-4", headers={"authorization": f"Bearer {token}"})
        assert told.status_code == httpx.codes.OK, told.text
        assert ("01632 960 622" in told.text) == (role != "maker")
        assert [ring["finger"]["size"] for ring in told.json()["rings"]] == ["54", "14", "14"]
    week = owner.get(
        "/api/week", params={"from": "2026-12-14"}, headers={"authorization": f"Bearer {TOKENS['maker']}"}
    )
    assert week.status_code == httpx.codes.OK
    assert week.json()["need"] != []


def test_an_answer_given_before_is_given_again(brought_up: Engine) -> None:
    till = Actor(None, "the till's counter", Role.COUNTER, token_id=2)

    def never() -> Answer:
        raise AssertionError("done twice")

    with session(brought_up) as book:
        moment = datetime(2026, 11, 11, 20, 30, tzinfo=UTC)
        told = once(book, key="till-0117", actor=till, fingerprint="c0ffee0117", now=moment, work=never)
    assert (told.status, told.location) == (201, "/api/orders/2026-10")


@pytest.mark.parametrize("number", ["2026-6", "2026-10", "2026-11"])
def test_an_old_order_is_quoted_once_there_are_rates(
    owner: httpx.Client, brought_up: Engine, number: str
) -> None:
    head = {"authorization": f"Bearer {TOKENS['counter']}"}
    refused = owner.post(f"/api/orders/{number}/quotes", json={}, headers=head)
    assert refused.status_code == httpx.codes.CONFLICT, refused.text
    now = this_moment()
    with session(brought_up) as book:
        put_figures(book, on=day_of(now, "Europe/London"), now=now)
    issued = owner.post(f"/api/orders/{number}/quotes", json={}, headers=head)
    assert issued.status_code == httpx.codes.CREATED, issued.text
    assert issued.json()["number"] == f"{number}-q1"
    paper = owner.get(f"/quotes/{number}-q1.pdf")
    assert (paper.status_code, paper.content[:5]) == (httpx.codes.OK, b"%PDF-")
    with session(brought_up) as book:
        assert order(book, number).state is State.QUOTED


def test_new_rows_follow_the_old_ones(brought_up: Engine) -> None:
    with session(brought_up) as book:
        put_figures(book)
        quote = a_quote(book)
        assert quote.number == "2026-12-q1"
        assert order(book, "2026-12").history[-1].actor == PROGRAM.name
