"""The server ended with SIGKILL while clients save, over and over, and the book looked at after each time."""

import random
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import httpx
from sqlalchemy import Engine

from studio.book.engine import open_book
from studio.book.schema import faults
from tests.faults.load import Ledger, Saved, Stage, Unanswered, clients
from tests.running import a_served_book

CLIENTS = 4
LEAST_SAVES, MOST_SAVES = 5, 40
"""So many answered saves a server lives for before it is killed."""
JITTER_SECONDS = 0.015
"""About the time of one save: the kill falls anywhere in it, not always just after an answer."""

_HALVES = {
    "orders without all their rings": "SELECT number FROM orders WHERE 2 <> "
    "(SELECT count(*) FROM rings WHERE rings.order_id = orders.id)",
    "orders whose history does not lead to their version": "SELECT number FROM orders WHERE version <> "
    "(SELECT count(*) FROM audit_entries WHERE audit_entries.order_id = orders.id)",
    "rings without an order": "SELECT id FROM rings WHERE order_id NOT IN (SELECT id FROM orders)",
    "fingers without a ring": "SELECT id FROM fingers WHERE id NOT IN (SELECT finger_id FROM rings)",
    "customers without an order": "SELECT id FROM customers WHERE id NOT IN (SELECT customer_id FROM orders)",
    "keys without an answer": "SELECT key FROM answers WHERE status = 0 OR body = ''",
    "years whose numbers have a gap": "SELECT year FROM orders GROUP BY year HAVING max(serial) <> count(*) "
    "OR max(serial) <> (SELECT last FROM order_counters WHERE order_counters.year = orders.year)",
    "orders saved twice": "SELECT replace(replace(note, ' taken', ''), ' changed', '') AS name "
    "FROM orders GROUP BY replace(replace(note, ' taken', ''), ' changed', '') HAVING count(*) > 1",
}
"""What would be half of a save, each with the question that finds it."""


@dataclass(slots=True)
class Toll:
    """What the rounds came to. `lost` and `half_saved` name what was found; both are to stay empty."""

    rounds: int = 0
    saves: int = 0
    cut_short: int = 0
    sent_again: int = 0
    lost: tuple[str, ...] = ()
    half_saved: tuple[str, ...] = ()


def kill_in_rounds(home: Path, url: str, token: str, *, rounds: int, seed: int) -> Toll:
    """Serve the book at `url`, kill the server under load, start it again and look; `rounds` times.

    A cut-off request is sent again under its key, as a careful client does, before the book is looked at.
    """
    chance = random.Random(seed)  # noqa: S311  it chooses moments, no secrets
    toll, last = Toll(), Ledger()
    for turn in range(rounds + 1):
        with a_served_book(home, url) as served:
            toll.sent_again += _send_again(served.base_url, token, last.unanswered)
            toll.lost += lost_of(url, last.orders)
            toll.half_saved += half_saved(url)
            if turn == rounds:
                break
            last = Ledger()
            with clients({f"r{turn}c{one}": token for one in range(CLIENTS)}, served.base_url, last):
                try:
                    last.wait_for(chance.randint(LEAST_SAVES, MOST_SAVES))
                    time.sleep(chance.uniform(0, JITTER_SECONDS))
                finally:
                    served.process.kill()
        assert last.refused == [], last.refused
        toll.rounds += 1
        toll.saves += last.saves
        toll.cut_short += len(last.unanswered) + sum(one.asked is not None for one in last.orders.values())
    return toll


def half_saved(url: str) -> tuple[str, ...]:
    """Everything in the book that is half of a save, or that the database itself finds wrong."""
    with _looked_at(url) as engine:
        found = list(faults(engine))
        with engine.connect() as book:
            for what, asked in _HALVES.items():
                if rows := book.exec_driver_sql(asked).fetchall():
                    found.append(f"{what}: {', '.join(str(row[0]) for row in rows)}")
    return tuple(found)


@contextmanager
def _looked_at(url: str) -> Iterator[Engine]:
    engine = open_book(url)
    yield engine
    engine.dispose()


def lost_of(url: str, told: Mapping[str, Saved]) -> tuple[str, ...]:
    """The orders that do not stand as their client was told: as answered last, or one unanswered save on."""
    asked = "SELECT number, version, note, state FROM orders"
    with _looked_at(url) as engine, engine.connect() as book:
        stand = {number: Stage(*facts) for number, *facts in book.exec_driver_sql(asked)}
    return tuple(
        f"{saved.number} was {saved.stands} and is {stand.get(saved.number)}"
        for saved in told.values()
        if stand.get(saved.number) not in {saved.stands, saved.asked or saved.stands}
    )


def _send_again(base_url: str, token: str, unanswered: list[Unanswered]) -> int:
    with httpx.Client(base_url=base_url, headers={"authorization": f"Bearer {token}"}, timeout=60) as api:
        for sent in unanswered:
            answer = api.post("/api/orders", json=sent.body, headers={"idempotency-key": sent.key})
            assert answer.status_code == httpx.codes.CREATED, answer.text
    return len(unanswered)
