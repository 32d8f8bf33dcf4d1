"""A book from before there were quotes, with its orders, comes up and goes on."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic import command
from sqlalchemy import Connection, Engine

from studio.book import engine as engines
from studio.book import migrating
from studio.book.engine import open_book
from studio.book.orders import move_order, order
from studio.book.people import PROGRAM
from studio.book.quotes import agree
from studio.book.schema import bring_up_to_date, faults
from studio.book.studio import Studio, studio
from studio.craft.orders import State
from studio.papers.quote_words import COMMON_RETURNS
from studio.resources import migrations_dir
from tests.builders import NOW
from tests.quoting import a_quote, put_figures

LAST_WITHOUT_QUOTES = "0004"
OLD_BOOK = """
INSERT INTO studio
    (id, name, subtitle, address, phone, email, hallmark_rule, currency, time_zone, version)
VALUES
    (1, 'Wrenfold', 'goldsmiths', '7 Cooper''s Stair', '01632 960 715', '', 'uk', 'GBP', 'Europe/London', 3);
INSERT INTO users (id, name, name_folded, role, created_at)
VALUES (1, 'Maren', 'maren', 'owner', '2026-11-01 09:00:00');
INSERT INTO customers (id, name, name_folded, phone, phone_reversed, note, version, created_at)
VALUES (1, 'Jorun Müller', 'jorun muller', '01632 960 716', '61706923610', '', 1, '2026-11-01 09:00:00');
INSERT INTO order_counters (year, last) VALUES (2026, 2)
"""
ORDER = """
INSERT INTO orders
    (id, number, year, serial, state, state_since, version, customer_id, wanted_on, is_wanted_hard,
     bench_on, note, agreed_name, agreed_at, created_at, changed_at)
VALUES
    ({id}, '2026-{id}', 2026, {id}, '{state}', '2026-11-20 10:00:00', 4, 1, '2026-12-19', false,
     '2026-12-01', 'As her mother''s.', {agreed}, '2026-11-18 10:00:00', '2026-11-20 10:00:00');
INSERT INTO fingers
    (id, customer_id, hand, finger, system, label, circumference_um, measured, gauge_width_um, is_warm,
     taken_by, taken_at)
VALUES
    ({id}, 1, 'left', 'ring', 'uk', 'O½', 55625, 'gauge', 6000, true, 'Ivo', '2026-11-18 10:00:00');
INSERT INTO rings
    (id, order_id, position, finger_id, profile, width_um, thickness_um, alloy, stock, pattern,
     pattern_when, reasons, circumference_um, true_length_um, mark_um, issue_mg, ring_mg, finished_mg)
VALUES
    ({id}, {id}, 1, {id}, 'flat', 6000, 1600, 'gold-750-yellow', 'strip', 'hammered',
     'flat', '{{}}', 55625, 60650, 61300, 9200, 9100, 8900);
INSERT INTO audit_entries (at, user_id, actor, verb, order_id, new)
VALUES ('2026-11-18 10:00:00', 1, 'Maren', 'take an order', {id}, '{{}}')
"""
AGREED = "'Jorun Müller', '2026-11-20 10:00:00'"


def run(connection: Connection, script: str) -> None:
    for line in script.split(";"):
        connection.exec_driver_sql(line)


@pytest.fixture
def old_book(tmp_path: Path) -> Engine:
    """A book with one order agreed and one quoted, both without a paper."""
    engine = open_book(f"sqlite:///{tmp_path / 'book.db'}")
    config = migrating.configuration(migrations_dir())
    with engine.connect() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, LAST_WITHOUT_QUOTES)
    with engine.begin() as connection:
        run(connection, OLD_BOOK)
        for number, state, agreed in ((1, "agreed", AGREED), (2, "quoted", "NULL, NULL")):
            run(connection, ORDER.format(id=number, state=state, agreed=agreed))
    bring_up_to_date(engine, now=NOW)
    return engine


def test_the_studio_keeps_its_facts_and_gets_words_for_its_quotes(old_book: Engine) -> None:
    with engines.session(old_book) as session:
        assert studio(session) == Studio(
            "Wrenfold", "goldsmiths", "7 Cooper's Stair", "01632 960 715", returns=COMMON_RETURNS, version=3
        )
    assert faults(old_book) == []
    old_book.dispose()


def test_an_order_agreed_before_keeps_its_state_and_goes_to_the_bench(old_book: Engine) -> None:
    with engines.session(old_book) as session:
        agreed = order(session, "2026-1")
        assert (agreed.state, agreed.version, agreed.agreed_name) == (State.AGREED, 4, "Jorun Müller")
        assert agreed.state_since == datetime(2026, 11, 20, 10, 0, tzinfo=UTC)
        assert (agreed.quotes, agreed.agreement, agreed.missing.bench) == ((), None, ())
        assert [entry.verb for entry in agreed.history] == ["take an order"]
        done = move_order(session, number="2026-1", to=State.AT_THE_BENCH, version=4, actor=PROGRAM, now=NOW)
        assert done.state is State.AT_THE_BENCH
    old_book.dispose()


def test_an_order_quoted_before_gets_its_quote_and_its_yes(old_book: Engine) -> None:
    with engines.session(old_book) as session:
        put_figures(session)
        issued = a_quote(session, order(session, "2026-2"))
        assert issued.number == "2026-2-q1"
        done = agree(session, quote=issued.number, name="Jorun", actor=PROGRAM, now=NOW)
        assert (done.state, done.missing.bench) == (State.AGREED, ("deposit",))
    old_book.dispose()
