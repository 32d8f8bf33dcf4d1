"""A server ended in the middle of its work leaves a book in which every answered save stands whole."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

from studio.craft.roles import Role
from tests.faults.crowds import take_at_once
from tests.faults.kills import half_saved, kill_in_rounds
from tests.faults.load import two_rings
from tests.web.house import House, make_book

ROUNDS = 5
ORDERS = 200


def test_killing_the_server_mid_save_loses_nothing_and_leaves_no_half_order(tmp_path: Path) -> None:
    tokens, _ = make_book(tmp_path)
    toll = kill_in_rounds(tmp_path, tokens[Role.OWNER], rounds=ROUNDS, seed=11)
    assert toll.lost == ()
    assert toll.half_saved == ()
    assert toll.rounds == ROUNDS
    assert toll.saves >= ROUNDS * 5
    assert toll.cut_short > 0, "no kill fell into a save"


def test_many_clients_at_once_get_numbers_without_a_gap_and_none_twice(tmp_path: Path) -> None:
    tokens, _ = make_book(tmp_path)
    numbers = take_at_once(tmp_path, tokens[Role.OWNER], orders=ORDERS)
    assert sorted(numbers) == list(range(1, ORDERS + 1))


def test_the_look_for_half_saves_finds_each_kind(house: House, tmp_path: Path) -> None:
    for name in ("a1", "a2", "a3", "a4"):
        key = {"idempotency-key": name}
        taken = house.ask("POST", "/api/orders", json=two_rings(f"{name} taken"), headers=key)
        assert taken.status_code == 201
    assert half_saved(tmp_path) == ()
    for wrong, found in {
        "DELETE FROM rings WHERE id = 1": {"orders without all their rings", "fingers without a ring"},
        "UPDATE orders SET version = version + 1 WHERE id = 1": {
            "orders whose history does not lead to their version"
        },
        "DELETE FROM orders WHERE serial = 3": {
            "rings without an order",
            "customers without an order",
            "years whose numbers have a gap",
            "a stray row in rings",
            "a stray row in audit_entries",
        },
        "UPDATE answers SET status = 0 WHERE id = 1": {"keys without an answer"},
        "UPDATE order_counters SET last = last + 1": {"years whose numbers have a gap"},
        "UPDATE orders SET note = (SELECT note FROM orders WHERE id = 1) WHERE id = 2": {
            "orders saved twice"
        },
    }.items():
        spoilt = tmp_path / "spoilt"
        spoilt.mkdir()
        shutil.copy(tmp_path / "book.db", spoilt)
        with closing(sqlite3.connect(spoilt / "book.db")) as book:
            book.execute(wrong)
            book.commit()
        assert {line.partition(":")[0] for line in half_saved(spoilt)} == found
        shutil.rmtree(spoilt)
