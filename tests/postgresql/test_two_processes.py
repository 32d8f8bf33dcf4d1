"""Two processes that serve one book: whatever is asked of both at once happens once."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from threading import Barrier
from typing import Any

import httpx
import pytest
from sqlalchemy import Engine, func, select, table

from studio import clock
from studio.book.engine import open_book, session
from studio.book.people import PROGRAM
from studio.book.piece_reads import pieces
from studio.book.rates import add_metal_prices, put_rates
from studio.craft.rates import MetalPrice, WeightUnit
from studio.craft.roles import Role
from tests.buying import a_purchase
from tests.faults.crowds import take_at_once
from tests.faults.kills import half_saved, kill_in_rounds, lost_of
from tests.faults.load import Ledger, clients, two_rings
from tests.postgresql.copies import Copies
from tests.running import Served, a_served_book
from tests.web.house import PASSPHRASE, Fresh, an_order
from tests.web.priced import RATES, today

Known = tuple[dict[Role, str], dict[Role, str]]
AT_ONCE = 8
ROUNDS = 2
ORDERS_ELSEWHERE = 25


@dataclass(frozen=True, slots=True)
class Doors:
    """Two processes that serve the book of `fresh`."""

    served: tuple[Served, Served]
    fresh: Fresh

    @property
    def base_urls(self) -> list[str]:
        return [one.base_url for one in self.served]

    def ask(self, door: int, method: str, path: str, **given: Any) -> httpx.Response:
        """What the process behind a door answers the owner's program."""
        headers = {"authorization": f"Bearer {self.fresh.tokens[Role.OWNER]}"} | given.pop("headers", {})
        return httpx.request(
            method, f"{self.base_urls[door % 2]}{path}", headers=headers, timeout=60, **given
        )

    def ask_at_once(self, method: str, path: str, times: int = AT_ONCE, **given: Any) -> list[httpx.Response]:
        """What many that ask the same at the same moment are answered, the one half here, the other there."""
        starts = Barrier(times)

        def ask(turn: int) -> httpx.Response:
            starts.wait(60)
            return self.ask(turn, method, path, **given)

        with ThreadPoolExecutor(times) as threads:
            return list(threads.map(ask, range(times)))

    def take_order(self) -> str:
        taken = self.ask(0, "POST", "/api/orders", json=an_order())
        assert taken.status_code == 201, taken.text
        return str(taken.json()["number"])

    def shown(self, number: str) -> dict[str, Any]:
        """The order as both doors show it."""
        here, there = (self.ask(door, "GET", f"/api/orders/{number}").json() for door in (0, 1))
        assert here == there
        return dict(here)


@pytest.fixture(scope="module")
def doors(made_copies: tuple[Copies, Known], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Doors]:
    """Two processes, a folder each, and one book; with what a quote needs."""
    copies, known = made_copies
    with copies.lent() as url:
        engine = open_book(url)
        with session(engine) as book:
            put_rates(book, rates=RATES, actor=PROGRAM, now=clock.now())
            price = MetalPrice("silver", RATES.waste_percent, WeightUnit.TROY_OUNCE, today(), "a list")
            add_metal_prices(book, prices=[price], actor=PROGRAM, now=clock.now())
        engine.dispose()
        homes = (tmp_path_factory.mktemp("one"), tmp_path_factory.mktemp("two"))
        with a_served_book(homes[0], url) as one, a_served_book(homes[1], url) as two:
            yield Doors((one, two), Fresh(url, *known))


@pytest.fixture
def one_book(made_copies: tuple[Copies, Known]) -> Iterator[Fresh]:
    """A fresh book in the server."""
    copies, known = made_copies
    with copies.lent() as url:
        yield Fresh(url, *known)


def test_eight_clients_at_two_processes_get_numbers_without_a_gap_and_none_twice(
    one_book: Fresh, tmp_path: Path
) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    with (
        a_served_book(tmp_path / "one", one_book.url) as one,
        a_served_book(tmp_path / "two", one_book.url) as two,
    ):
        numbers = take_at_once([one.base_url, two.base_url], one_book.tokens[Role.OWNER], orders=80)
    assert sorted(numbers) == list(range(1, 81))
    assert half_saved(one_book.url) == ()


def test_of_quotes_of_one_order_asked_for_at_both_one_stands(doors: Doors) -> None:
    number = doors.take_order()
    answers = doors.ask_at_once("POST", f"/api/orders/{number}/quotes", json={})
    assert [answer.status_code for answer in answers] == [201] * AT_ONCE
    revisions = [f"{number}-q{place}" for place in range(1, AT_ONCE + 1)]
    assert sorted(answer.json()["number"] for answer in answers) == revisions
    quotes = doors.shown(number)["quotes"]
    assert sorted(quote["number"] for quote in quotes) == revisions
    assert [quote["number"] for quote in quotes if quote["state"] == "open"] == revisions[-1:]


def test_a_yes_sent_to_both_is_one_yes(doors: Doors) -> None:
    number = doors.take_order()
    quote = doors.ask(1, "POST", f"/api/orders/{number}/quotes", json={}).json()["number"]
    said = {"name": "Ottilie Marchbanks", "without_deposit": "an old customer"}
    answers = doors.ask_at_once("POST", f"/api/quotes/{quote}/agreement", json=said)
    assert sorted(answer.status_code for answer in answers) == [201] + [409] * (AT_ONCE - 1)
    order = doors.shown(number)
    assert (order["state"], order["agreed_name"]) == ("agreed", "Ottilie Marchbanks")
    assert order["version"] == 3


def test_a_key_sent_to_both_takes_one_order_and_all_hear_the_same(doors: Doors) -> None:
    key = {"idempotency-key": "one-in-the-drawer"}
    answers = doors.ask_at_once("POST", "/api/orders", json=two_rings("k1 taken"), headers=key)
    assert {answer.status_code for answer in answers} == {201}
    assert len({answer.text for answer in answers}) == 1
    found = doors.ask(0, "GET", "/api/orders?limit=200").json()["items"]
    assert [one["number"] for one in found].count(answers[0].json()["number"]) == 1
    before = doors.ask(1, "POST", "/api/orders", json=two_rings("k1 taken"), headers=key)
    assert before.text == answers[0].text


def test_who_signed_in_at_one_is_known_at_the_other_and_signs_out_of_both(doors: Doors) -> None:
    here, there = doors.base_urls
    with httpx.Client(headers={"sec-fetch-site": "same-origin"}, timeout=60) as browser:
        entered = browser.post(f"{here}/sign-in", data={"name": "Ivo", "passphrase": PASSPHRASE})
        assert entered.status_code == 303
        assert browser.get(f"{there}/orders").status_code == 200
        assert browser.post(f"{there}/sign-out").status_code == 303
        browser.cookies.update(entered.cookies)
        assert browser.get(f"{here}/orders").headers.get("location", "").startswith("/sign-in")


def _count(engine: Engine, name: str) -> int:
    with engine.connect() as connection:
        return connection.execute(select(func.count()).select_from(table(name))).scalar_one()


def test_processes_started_at_once_on_an_empty_book_make_it_once(empty_database: str, tmp_path: Path) -> None:
    starts = Barrier(3)
    ends = Barrier(3)

    def serve(name: str) -> str:
        home = tmp_path / name
        home.mkdir()
        starts.wait(60)
        with a_served_book(home, empty_database, says="This book has no owner yet.") as served:
            health = httpx.get(f"{served.base_url}/health", timeout=60).status_code
            ends.wait(120)
        return f"{health}"

    with ThreadPoolExecutor(3) as threads:
        assert list(threads.map(serve, ("one", "two", "three"))) == ["200"] * 3
    engine = open_book(empty_database)
    assert _count(engine, "studio") == _count(engine, "users") == _count(engine, "alembic_version") == 1
    engine.dispose()


def test_killing_one_process_mid_save_loses_nothing_while_the_other_goes_on(
    one_book: Fresh, tmp_path: Path
) -> None:
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
    token = one_book.tokens[Role.OWNER]
    elsewhere = Ledger()
    with (
        a_served_book(tmp_path / "two", one_book.url) as other,
        clients({"s1": token, "s2": token}, other.base_url, elsewhere, ORDERS_ELSEWHERE),
    ):
        toll = kill_in_rounds(tmp_path / "one", one_book.url, token, rounds=ROUNDS, seed=5)
    assert (toll.rounds, toll.lost, toll.half_saved) == (ROUNDS, (), ())
    assert (elsewhere.refused, elsewhere.unanswered) == ([], [])
    assert len(elsewhere.orders) == 2 * ORDERS_ELSEWHERE
    assert lost_of(one_book.url, elsewhere.orders) == ()
    assert half_saved(one_book.url) == ()


def test_metal_that_arrives_at_both_lies_in_the_drawer_once(doors: Doors) -> None:
    engine = open_book(doors.fresh.url)
    with session(engine) as book:
        made = a_purchase(book, 2)
    for line in made.lines:
        address = f"/api/purchases/{made.id}/lines/{line.id}/arrival"
        answers = doors.ask_at_once("POST", address, json={"lot": line.name})
        assert sorted(answer.status_code for answer in answers) == [201] + [409] * (AT_ONCE - 1)
    states = [line["state"] for line in doors.ask(0, "GET", f"/api/purchases/{made.id}").json()["lines"]]
    assert states == ["arrived", "arrived"]
    with session(engine) as book:
        assert sorted(piece.lot for piece in pieces(book)) == [line.name for line in made.lines]
    engine.dispose()
