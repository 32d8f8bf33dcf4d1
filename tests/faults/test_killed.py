"""A server ended in the middle of its work leaves a book in which every answered save stands whole."""

import sqlite3
from contextlib import closing
from pathlib import Path

import psycopg
import pytest

from studio.craft.roles import Role
from tests.faults.crowds import take_at_once
from tests.faults.kills import half_saved, kill_in_rounds
from tests.faults.load import two_rings
from tests.running import a_served_book
from tests.web.house import Fresh, House

ROUNDS = {"sqlite": 6, "postgresql": 3}
ORDERS = 200


def test_killing_the_server_mid_save_loses_nothing_and_leaves_no_half_order(
    fresh: Fresh, tmp_path: Path
) -> None:
    rounds = ROUNDS[fresh.url.partition(":")[0].partition("+")[0]]
    toll = kill_in_rounds(tmp_path, fresh.url, fresh.tokens[Role.OWNER], rounds=rounds, seed=11)
    assert toll.lost == ()
    assert toll.half_saved == ()
    assert toll.rounds == rounds
    assert toll.saves >= rounds * 5
    assert toll.cut_short > 0, "no kill fell into a save"


def test_many_clients_at_once_get_numbers_without_a_gap_and_none_twice(fresh: Fresh, tmp_path: Path) -> None:
    with a_served_book(tmp_path, fresh.url) as served:
        numbers = take_at_once([served.base_url], fresh.tokens[Role.OWNER], orders=ORDERS)
    assert sorted(numbers) == list(range(1, ORDERS + 1))


def spoil(url: str, wrong: str) -> None:
    """Write what the database itself would not take: rows that point nowhere among it."""
    if url.startswith("sqlite"):
        with closing(sqlite3.connect(url.removeprefix("sqlite:///"), isolation_level=None)) as careless:
            careless.execute(wrong)
    else:
        with psycopg.connect(url.replace("+psycopg", ""), autocommit=True) as owner:
            owner.execute("SET session_replication_role = replica")
            owner.execute(wrong.encode())


STRAYS = {"a row of rings points to a missing row of orders"}
STRAYS |= {"a row of audit_entries points to a missing row of orders"}


@pytest.mark.parametrize(
    ("wrong", "found"),
    [
        ("DELETE FROM rings WHERE id = 1", {"orders without all their rings", "fingers without a ring"}),
        (
            "UPDATE orders SET version = version + 1 WHERE id = 1",
            {"orders whose history does not lead to their version"},
        ),
        (
            "DELETE FROM orders WHERE serial = 3",
            {"rings without an order", "customers without an order", "years whose numbers have a gap"}
            | STRAYS,
        ),
        ("UPDATE answers SET status = 0 WHERE id = 1", {"keys without an answer"}),
        ("UPDATE order_counters SET last = last + 1", {"years whose numbers have a gap"}),
        (
            "UPDATE orders SET note = (SELECT note FROM orders WHERE id = 1) WHERE id = 2",
            {"orders saved twice"},
        ),
    ],
)
def test_the_look_for_half_saves_finds_each_kind(house: House, wrong: str, found: set[str]) -> None:
    for name in ("a1", "a2", "a3", "a4"):
        key = {"idempotency-key": name}
        taken = house.ask("POST", "/api/orders", json=two_rings(f"{name} taken"), headers=key)
        assert taken.status_code == 201
    assert half_saved(house.url) == ()
    spoil(house.url, wrong)
    assert {line.partition(":")[0] for line in half_saved(house.url)} == found
