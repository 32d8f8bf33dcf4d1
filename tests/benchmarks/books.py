"""Order books of any size: the demo as it is told by the real verbs, and before it years of the same kind.

The years before are copies of the demo's finished orders, every row of them: customer, fingers, order, rings,
quotes, the yes, the history. Each copy has days, a number, a name and a telephone number of its own, wherever
they are written down. They go in by the database's own way for many rows: 100,000 orders take seconds.
"""

import sqlite3
from bisect import bisect
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import replace
from datetime import date
from itertools import accumulate
from pathlib import Path
from random import Random

from sqlalchemy import Connection, Engine, func, select

from studio.book.demo import SEED, write_demo
from studio.book.engine import open_book, session
from studio.book.schema import bring_up_to_date
from studio.clock import now as this_moment
from tests.benchmarks.copies import (
    TABLES,
    Copy,
    Customer,
    Rows,
    Template,
    folded_name,
    table_of,
    templates_of,
    words_of_name,
)

YEARS = 20
"""How many years the finished orders reach back before those of the demo."""
BATCH = 2_000
FIRST_NAMES = (
    "Anna", "Thea", "Rafe", "Bettina", "Callum", "Nadia", "Pieter", "Siân", "Юлия", "Amara", "Lorcan",
    "Mei-Ling", "Åsa", "Dorothea", "Emeka", "Françoise", "Gwilym", "Hanneke", "Imran", "Josefina",
    "Kasimir", "Marek", "Niamh", "Orla", "Priya", "Quentin", "Rosalind", "Søren", "Tamsin", "Ursula",
    "Vikram", "Winifred", "Xanthe", "Yusuf", "Zofia", "Ελένη", "Jorun", "Annette", "Johann", "Marianne",
)  # fmt: skip
LAST_NAMES = (
    "Smith", "Müller", "Jones", "Patel", "Anderson", "Novák", "García", "Okafor", "Marchbanks", "Oduya",
    "Szabó", "Treadgold", "Rahmani", "van der Aa", "Prothero", "Беркутова", "Nwosu", "Devane", "Tong",
    "Lindqvist", "Quill", "Balogun", "Delorme", "Parry", "Bos", "Sadiq", "Luque", "Wolny", "Stone",
    "Dvořák", "Corrigan", "Featherstone", "Venkataraman", "Ashdown", "Dahl", "Pellow", "Groß",
    "Chaudhary", "Nash", "Kouris", "Demirel", "Kaczmarek", "Munro", "Iriarte", "Farraday", "Arnaud",
    "Thackray", "Halloran", "Marsh", "Nørgaard", "Trevanion", "Lindley", "Salonen", "Perrault",
    "Donnellan", "Bhatt", "Garnier", "Sandiford", "Grant", "Ketterer", "Hayashi", "Weiss", "Bloom",
    "Abernathy", "Carrick", "Smythe-Dahl", "Βασιλάκη",
)  # fmt: skip
"""Common names first: the tenth is met a tenth as often as the first, as family names roughly are."""
STORY_NUMBERS = (
    "01632 960 {:03}",
    "07700 900 {:03}",
    "020 7946 0{:03}",
    "0113 496 0{:03}",
    "0191 498 0{:03}",
)
"""Telephone numbers that the British regulator keeps free for stories."""
_WRITTEN = (*TABLES, "customer_words", "order_counters")


def make_book_of(path_or_url: Path | str, orders: int) -> str:
    """Make a book of this many orders in a new file, or in an empty PostgreSQL database; give its address.

    The newest orders are those of the demo, with its people and prices; sign in as its owner. The same call
    on the same day makes the same book. Raises `ValueError` for fewer orders than the demo has.
    """
    url = str(path_or_url) if "://" in str(path_or_url) else f"sqlite:///{path_or_url}"
    engine = open_book(url)
    now = this_moment()
    bring_up_to_date(engine, now=now)
    with session(engine) as book:
        write_demo(book, now=now)
    with engine.connect() as connection:
        templates = templates_of(connection)
        free = {name: _last_id(connection, name) + 1 for name in TABLES}
        first_year, told = connection.execute(
            select(func.min(table_of("orders").c.year), func.count()).select_from(table_of("orders"))
        ).one()
    if orders < told:
        raise ValueError(f"the demo alone has {told} orders")
    history = _history(templates, orders - told, first_year, free)
    if engine.url.get_backend_name() == "sqlite":
        _into_file(str(engine.url.database), history)
    else:
        _into_server(engine, history)
    engine.dispose()
    return url


def _last_id(connection: Connection, table: str) -> int:
    last: int = connection.execute(select(func.max(table_of(table).c.id))).scalar_one()
    return last


def _history(
    templates: Sequence[Template], orders: int, before_year: int, free: dict[str, int]
) -> Iterator[dict[str, Rows]]:
    """The rows of the years before, in the order of time, some thousands at once."""
    chance = Random(SEED)  # noqa: S311  the same book every time, nothing is kept secret by it
    latest = max(template.taken_on for template in templates)
    nearest = (latest - date(before_year - 1, 12, 31)).days
    copies = -(-orders // len(templates))
    taken = sorted(
        (template.taken_on.toordinal() - days, place, days)
        for days in (nearest + copy * YEARS * 365 // copies for copy in range(copies))
        for place, template in enumerate(templates)
    )
    serials: Counter[int] = Counter()
    customers = _customers(chance)
    customer = next(customers)
    rows: dict[str, Rows] = defaultdict(list)
    for turn, (day, place, days) in enumerate(taken[-orders:] if orders else []):
        year = date.fromordinal(day).year
        serials[year] += 1
        is_known = turn % 4 == 3
        if not is_known:
            customer = replace(next(customers), first=dict(free))
            words = words_of_name(folded_name(customer.name))
            rows["customer_words"] += [(word, free["customers"]) for word in words]
        parts = [templates[place].own] if is_known else [templates[place].of_customer, templates[place].own]
        for part in parts:
            copy = Copy(days, year, serials[year], customer, dict(free))
            for name, found in part.items():
                rows[name] += [
                    tuple([cell(copy) if callable(cell) else cell for cell in row]) for row in found
                ]
                free[name] += len(found)
        if turn % BATCH == BATCH - 1:
            yield rows
            rows = defaultdict(list)
    rows["order_counters"] = sorted(serials.items())
    yield rows


def _customers(chance: Random) -> Iterator[Customer]:
    """Customers without end, some names among them far more often than others."""
    weights = list(accumulate(1 / place for place in range(1, len(LAST_NAMES) + 1)))
    while True:
        name = f"{chance.choice(FIRST_NAMES)} {LAST_NAMES[bisect(weights, chance.random() * weights[-1])]}"
        phone = chance.choice(STORY_NUMBERS).format(chance.randrange(1000))
        yield Customer(name, phone, f"customer.{chance.randrange(10**6)}@post.example", {})


def _into_file(path: str, history: Iterator[dict[str, Rows]]) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as book:
        # Nothing is at stake in a book that is being made: a failure means making it again.
        for pragma in ("journal_mode = OFF", "synchronous = OFF", "cache_size = -500000"):
            book.execute(f"PRAGMA {pragma}").close()
        book.execute("BEGIN")
        for rows in history:
            for name in _WRITTEN:
                columns = [column.name for column in table_of(name).columns]
                into = f"{name} ({', '.join(columns)}) VALUES ({', '.join('?' * len(columns))})"
                book.executemany(f"INSERT INTO {into}", rows[name])
        book.execute("COMMIT")


def _into_server(engine: Engine, history: Iterator[dict[str, Rows]]) -> None:
    with engine.connect() as connection, connection.begin():
        driver = connection.connection.driver_connection
        assert driver is not None
        with driver.cursor() as cursor:
            cursor.execute("SET LOCAL TIME ZONE 'UTC'")
            for rows in history:
                for name in _WRITTEN:
                    columns = ", ".join(column.name for column in table_of(name).columns)
                    with cursor.copy(f"COPY {name} ({columns}) FROM STDIN") as copy:
                        for row in rows[name]:
                            copy.write_row(row)
            for name in TABLES:
                cursor.execute(
                    f"SELECT setval(pg_get_serial_sequence('{name}', 'id'), max(id)) FROM {name}"  # noqa: S608  names of our own
                )
    # The server does this by itself some minutes after so many rows; a measurement does not wait for it.
    with engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.exec_driver_sql("VACUUM ANALYZE")
