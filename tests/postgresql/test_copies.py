"""The databases that tests are lent: each is as it was made, whatever was done in it and whoever looks on."""

from collections.abc import Iterator
from itertools import count

import psycopg
import pytest

from tests.postgresql.copies import Copies, copies_of
from tests.postgresql.server import Server

_TURN = count(1)


@pytest.fixture
def copies(server: Server) -> Iterator[Copies]:
    """Copies of a database with one small table, to which somebody stayed connected."""
    name = f"small_{next(_TURN)}_made"
    server.make(name)
    with server.keeper(name) as stays, server.keeper(name) as keeper:
        keeper.execute("CREATE TABLE wrens (id serial PRIMARY KEY, name text)")
        keeper.execute("INSERT INTO wrens (name) VALUES ('Jenny')")
        copies = copies_of(server, name)
        with pytest.raises(psycopg.OperationalError):
            stays.execute("SELECT 1")
    yield copies
    copies.close()


def wrens(url: str) -> list[str]:
    with psycopg.connect(url) as reader:
        return [name for (name,) in reader.execute("SELECT name FROM wrens ORDER BY id")]


def test_what_is_copied_lets_nobody_in(server: Server, copies: Copies) -> None:
    with pytest.raises(psycopg.OperationalError, match="not currently accepting connections"):
        server.keeper(copies.template)
    with copies.lent() as url:
        assert wrens(url) == ["Jenny"]


@pytest.mark.parametrize(
    "done",
    [
        "INSERT INTO wrens (name) VALUES ('Robin')",
        "DELETE FROM wrens",
        "ALTER TABLE wrens ADD COLUMN song text",
        "DROP TABLE wrens",
    ],
)
def test_each_is_lent_as_it_was_made_though_the_one_before_never_let_go(copies: Copies, done: str) -> None:
    with copies.lent() as url:
        keeps = psycopg.connect(url)
        keeps.execute(done.encode())
        keeps.commit()
        keeps.execute("BEGIN")
        keeps.execute("SELECT 1")
    with copies.lent() as again:
        assert wrens(again) == ["Jenny"]
        with psycopg.connect(again) as writer:
            written = writer.execute("INSERT INTO wrens (name) VALUES ('Wren') RETURNING id").fetchone()
        assert written == (2,)
    keeps.close()
