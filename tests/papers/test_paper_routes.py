from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any

import httpx
import pytest
from anyio.to_thread import current_default_thread_limiter
from fastapi import FastAPI
from sqlalchemy import Engine, QueuePool

from studio import clock
from studio.book.engine import session
from studio.book.order_values import CustomerDraft, Order
from studio.craft.orders import State
from studio.craft.roles import Role
from studio.papers.paper import Paper
from studio.papers.printing import HousePrinter
from tests.builders import a_narrowly_measured_ring, a_ring, an_order, one_step
from tests.papers.printed import catalogue, reader, structure, text_of

ApiAs = Callable[[Role], httpx.Client]


def written(engine: Engine, **facts: Any) -> Order:
    """An order written down and left alone, as when somebody else asks for its papers later."""
    with session(engine) as book:
        return an_order(book, **facts)


@pytest.mark.parametrize("state", [State.AGREED, State.AT_THE_BENCH, State.READY, State.HANDED_OVER])
def test_the_bench_sheet_of_an_agreed_order_has_a_page_for_each_ring(
    engine: Engine, api: httpx.Client, state: State
) -> None:
    order = written(
        engine, state=state, rings=[a_ring(), a_ring()], promised_at=datetime(2026, 12, 11, 10, tzinfo=UTC)
    )
    answer = api.get(f"/orders/{order.number}/bench-sheet.pdf")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"] == f'inline; filename="bench-sheet-{order.number}.pdf"'
    assert len(reader(answer.content).pages) == 2
    words = text_of(answer.content)
    assert "Jorun Müller, ring 1 of 2" in words
    assert "Jorun Müller, ring 2 of 2" in words
    assert "promised Fri 11 Dec, 10:00" in words
    assert "01632" not in words
    information = reader(answer.content).metadata
    assert information is not None
    assert information.title == f"Bench sheet {order.number}, Jorun Müller"
    assert str(catalogue(answer.content)["/Lang"]) == "en"


@pytest.mark.parametrize("state", [State.DRAFT, State.QUOTED, State.CALLED_OFF])
def test_there_is_no_bench_sheet_before_the_yes_or_after_the_order_is_called_off(
    engine: Engine, api: httpx.Client, state: State
) -> None:
    order = written(engine)
    if state is not State.DRAFT:
        with session(engine) as book:
            order = one_step(book, order, state)
    answer = api.get(f"/orders/{order.number}/bench-sheet.pdf")
    assert answer.status_code == 409
    assert answer.json()["current"] == {
        "number": order.number,
        "state": state.value,
        "version": order.version,
    }
    assert order.number in answer.json()["errors"][0]["message"]


def test_no_connection_and_no_thread_of_the_book_is_held_while_a_paper_is_made(
    engine: Engine, app: FastAPI, api: httpx.Client
) -> None:
    order = written(engine, state=State.AGREED)
    seen: list[tuple[int, float]] = []

    class Watched(HousePrinter):
        async def pdf(self, paper: Paper) -> bytes:
            assert isinstance(engine.pool, QueuePool)
            seen.append((engine.pool.checkedout(), current_default_thread_limiter().borrowed_tokens))
            return await super().pdf(paper)

    app.state.printer = Watched()
    assert api.get(f"/orders/{order.number}/bench-sheet.pdf").status_code == 200
    assert seen == [(0, 0)]


def test_an_unknown_order_has_no_bench_sheet(api: httpx.Client) -> None:
    assert api.get("/orders/2026-999/bench-sheet.pdf").status_code == 404


@pytest.mark.parametrize("role", list(Role))
def test_every_role_prints_bench_sheets_with_a_token(engine: Engine, api_as: ApiAs, role: Role) -> None:
    order = written(engine, state=State.AGREED)
    client = api_as(role)
    assert client.get(f"/orders/{order.number}/bench-sheet.pdf").status_code == 200
    assert client.get("/week/papers.pdf").status_code == 200


def test_a_stranger_prints_nothing(engine: Engine, stranger: httpx.Client) -> None:
    order = written(engine, state=State.AGREED)
    for path in (f"/orders/{order.number}/bench-sheet.pdf", "/week/papers.pdf"):
        answer = stranger.get(path)
        assert answer.status_code in {303, 401}
        assert b"%PDF" not in answer.content


@pytest.mark.parametrize("host", ["127.0.0.1:8321", "elsewhere.example", "elsewhere.example:80"])
def test_the_square_code_opens_the_order_whatever_the_asker_calls_us(
    engine: Engine, api: httpx.Client, host: str
) -> None:
    order = written(engine, state=State.AGREED)
    pdf = api.get(f"/orders/{order.number}/bench-sheet.pdf", headers={"host": host}).content
    spoken = [str(element.get("/Alt", "")) for element in structure(pdf)]
    assert any(f"http://127.0.0.1:8321/orders/{order.number}" in words for words in spoken)
    assert not any("elsewhere.example" in words for words in [*spoken, text_of(pdf)])


def test_the_square_code_uses_the_address_of_the_settings(
    engine: Engine, app: FastAPI, api: httpx.Client
) -> None:
    app.state.settings = app.state.settings.model_copy(update={"address": "https://book.wrenfold.example/"})
    order = written(engine, state=State.AGREED)
    pdf = api.get(f"/orders/{order.number}/bench-sheet.pdf").content
    spoken = [str(element.get("/Alt", "")) for element in structure(pdf)]
    assert any(f"https://book.wrenfold.example/orders/{order.number}" in words for words in spoken)


def test_a_reason_given_for_a_warning_is_printed(engine: Engine, api: httpx.Client) -> None:
    ring = a_narrowly_measured_ring(reasons={"narrow-gauge": "tried on a sizer 8 mm wide"})
    order = written(engine, state=State.AGREED, rings=[ring])
    words = text_of(api.get(f"/orders/{order.number}/bench-sheet.pdf").content)
    assert "Reason: tried on a sizer 8 mm wide." in words


def test_a_week_prints_a_sheet_for_each_ring_due_in_it_by_day(engine: Engine, api: httpx.Client) -> None:
    def due(day: date, name: str, state: State = State.AGREED, rings: int = 1) -> None:
        written(
            engine,
            state=state,
            customer=CustomerDraft(name),
            bench_on=day,
            rings=[a_ring() for _ in range(rings)],
        )

    due(date(2026, 12, 6), "Sunday Person")
    due(date(2026, 11, 30), "Monday Person", State.AT_THE_BENCH, rings=2)
    due(date(2026, 12, 7), "Later Person")
    due(date(2026, 11, 29), "Earlier Person")
    due(date(2026, 12, 1), "Draft Person", State.DRAFT)
    due(date(2026, 12, 1), "Ready Person", State.READY)
    due(date(2026, 12, 1), "Gone Person", State.CALLED_OFF)
    answer = api.get("/week/papers.pdf", params={"from": "2026-12-03"})
    assert answer.status_code == 200
    assert answer.headers["content-disposition"] == 'inline; filename="bench-sheets-2026-11-30.pdf"'
    pages = [text_of(answer.content, page) for page in range(1, len(reader(answer.content).pages) + 1)]
    assert [next(name for name in ("Monday", "Sunday") if f"{name} Person" in page) for page in pages] == [
        "Monday",
        "Monday",
        "Sunday",
    ]
    assert all("page 1 of 1" in page for page in pages)
    information = reader(answer.content).metadata
    assert information is not None
    assert information.title == "Bench sheets, Mon 30 Nov to Sun 6 Dec 2026"


def test_a_week_without_any_says_so_on_one_page(engine: Engine, api: httpx.Client) -> None:
    written(engine, state=State.AGREED, bench_on=date(2026, 12, 1))
    answer = api.get("/week/papers.pdf", params={"from": "2026-12-07"})
    assert answer.status_code == 200
    assert len(reader(answer.content).pages) == 1
    assert "No bench sheets this week" in text_of(answer.content)
    assert "Mon 7 Dec to Sun 13 Dec 2026" in text_of(answer.content)


def test_without_a_day_it_is_this_week(engine: Engine, api: httpx.Client) -> None:
    sunday = clock.monday_of(clock.today("Europe/London")) + timedelta(days=6)
    written(engine, state=State.AGREED, bench_on=sunday, customer=CustomerDraft("Sunday Person"))
    assert "Sunday Person" in text_of(api.get("/week/papers.pdf").content)


@pytest.mark.parametrize("typed", ["2026-02-31", "soon", "9" * 400])
def test_a_day_that_is_none_is_asked_for_again(api: httpx.Client, typed: str) -> None:
    answer = api.get("/week/papers.pdf", params={"from": typed})
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "from"


def test_every_sheet_of_an_order_that_the_bench_waits_with_says_what_for(
    engine: Engine, api: httpx.Client
) -> None:
    order = written(
        engine, state=State.AGREED, rings=[a_ring(), a_narrowly_measured_ring()], bench_on=date(2026, 12, 1)
    )
    of_week = api.get("/week/papers.pdf", params={"from": "2026-11-30"})
    of_order = api.get(f"/orders/{order.number}/bench-sheet.pdf")
    for answer in (of_order, of_week):
        assert answer.status_code == 200
        for page in (1, 2):
            words = text_of(answer.content, page=page)
            assert "Not yet for the bench: reason for narrow gauge on ring 2" in words
