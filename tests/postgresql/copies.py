"""Copies of one database, lent to test after test; to fill one anew is faster than to make one."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import count

import psycopg
from psycopg.sql import SQL, Identifier, Literal

from tests.postgresql.server import Server

MOST_LOANS = 60
"""So often a copy is lent. Nothing vacuums it, so rows that were deleted make it slower with every loan."""

_NAMES = """
    SELECT relname FROM pg_class
    WHERE relnamespace = 'public'::regnamespace AND relkind = %(kind)s::"char" ORDER BY relname
"""
_SHAPE = """
    SELECT md5(string_agg(concat_ws(' ', oid, relname, relnatts, relchecks), ',' ORDER BY oid))
    FROM pg_class WHERE relnamespace = 'public'::regnamespace
"""
"""What changes with every table, column, index or check that a test would add or drop."""
_RESTORE = SQL("""
BEGIN;
SET LOCAL session_replication_role = replica;
{others}
DO $check$ BEGIN
    IF ({shape}) <> {stands} THEN RAISE EXCEPTION 'a test changed the tables'; END IF;
END $check$;
{rows}
COMMIT;
""")
_END_OTHERS = SQL("""SELECT pg_terminate_backend(pid) FROM pg_stat_activity
    WHERE datname = current_database() AND pid <> pg_backend_pid();""")
_NOBODY = SQL("")
_FILL = SQL("INSERT INTO {table} SELECT * FROM json_populate_recordset(NULL::{table}, {kept});")


@dataclass(slots=True)
class Copies:
    """The copies of `template`, to which nobody may be connected any more."""

    server: Server
    template: str
    restoring: bytes
    free: list["_Copy"] = field(default_factory=list)
    turn: Iterator[int] = field(default_factory=lambda: count(1))

    @contextmanager
    def lent(self) -> Iterator[str]:
        """The address of a copy that is as the template."""
        copy = self.free.pop() if self.free else self._new()
        yield self.server.url(copy.name)
        copy.loans += 1
        if copy.loans < MOST_LOANS and self._is_restored(copy):
            self.free.append(copy)
        else:
            copy.keeper.close()
            self.server.drop(copy.name)

    def close(self) -> None:
        """Let go of the copies; they end with the server."""
        for copy in self.free:
            copy.keeper.close()

    def _new(self) -> "_Copy":
        name = f"{self.template}_{next(self.turn)}"
        self.server.make(name, self.template)
        return _Copy(name, self.server.keeper(name))

    def _is_restored(self, copy: "_Copy") -> bool:
        """Put a copy back; False where that cannot be done, as after a test that changed its tables."""
        try:
            copy.keeper.execute(self.restoring)
        except psycopg.Error:
            return False
        return True


@dataclass(slots=True)
class _Copy:
    name: str
    keeper: psycopg.Connection
    loans: int = 0


def copies_of(server: Server, template: str) -> Copies:
    """The copies of a database that stands as it is to be copied, with its small number of rows.

    From now on nobody is let into it.
    """
    rows = restoring(server, template, others=_END_OTHERS)
    server.close(template)
    return Copies(server, template, rows)


def restoring(server: Server, template: str, *, others: SQL = _NOBODY) -> bytes:
    """The statements that give a database the rows of `template` as they are now, in one round trip.

    `others` is done first about those who are connected as well; they may stay where nobody is at anything.
    """
    with server.keeper(template) as keeper:
        tables = [Identifier(name) for (name,) in keeper.execute(_NAMES, {"kind": "r"})]
        sequences = [Identifier(name) for (name,) in keeper.execute(_NAMES, {"kind": "S"})]
        (shape,) = keeper.execute(_SHAPE).fetchone() or ("",)
        rows = [SQL("DELETE FROM {};").format(table) for table in tables]
        for table in tables:
            (kept,) = keeper.execute(SQL("SELECT json_agg(t)::text FROM {} t").format(table)).fetchone() or (
                "",
            )
            if kept:
                rows.append(_FILL.format(table=table, kept=Literal(kept)))
        for name in sequences:
            asked = SQL("SELECT last_value, is_called FROM {}").format(name)
            last, is_called = keeper.execute(asked).fetchone() or (1, False)
            called = Literal(name.as_string(keeper))
            rows.append(SQL("SELECT setval({}, {}, {});").format(called, Literal(last), Literal(is_called)))
        whole = _RESTORE.format(
            others=others, shape=SQL(_SHAPE), stands=Literal(shape), rows=SQL("\n").join(rows)
        )
        return whole.as_bytes(keeper)
