"""Tables whose rows are chained by hashes: the next row written, and the whole chain walked.

Writers of one book take turns, in a file as on a server, so the last row that is read inside a transaction is
the last when it is saved.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any, TypeVar

from sqlalchemy import inspect
from sqlmodel import Session, col, select

from studio.book.types import Row
from studio.craft.chain import GENESIS, chained, first_unfit, row_text

Kind = TypeVar("Kind", bound=Row)
_AT_A_TIME = 500


@dataclass(frozen=True, slots=True)
class HeadRow:
    """The last row of a chain, when it was written, and its hash: that of all before it too."""

    number: int
    at: datetime
    hash: str


def add_chained(session: Session, kind: type[Kind], /, **values: Any) -> Kind:
    """Write the next row of a chained table, inside a transaction."""
    last: Any = session.exec(select(kind).order_by(col(kind.id).desc()).limit(1)).first()  # type: ignore[attr-defined]  # every chained table has it
    row: Any = kind(id=1 if last is None else last.id + 1, hash="", **values)
    row.hash = chained(GENESIS if last is None else last.hash, text_of_row(row))
    session.add(row)
    session.flush()
    made: Kind = row
    return made


def head_row(session: Session, kind: type[Row], *, until: date | None = None) -> HeadRow | None:
    """The last row of a chained table, or the last of the day `until` and before; None before the first."""
    table: Any = kind
    wanted = select(table.id, table.at, table.hash).order_by(table.id.desc()).limit(1)
    if until is not None:
        wanted = wanted.where(table.on_day <= until)
    found = session.exec(wanted).first()
    return None if found is None else HeadRow(*found)


def unfit_row(session: Session, kind: type[Row]) -> int | None:
    """The number of the first row that does not fit its chain, None where all do."""
    return first_unfit(_links(session, kind))


def _links(session: Session, kind: type[Row]) -> Iterator[tuple[int, str, str]]:
    """The rows as they lie in the book, some hundred at a time, whatever the session had read of them."""
    table: Any = kind
    last: int | None = None
    while True:
        wanted = select(table).order_by(table.id).limit(_AT_A_TIME)
        if last is not None:
            wanted = wanted.where(table.id > last)
        rows = session.exec(wanted.execution_options(populate_existing=True)).all()
        for row in rows:
            yield row.id, text_of_row(row), row.hash
        if len(rows) < _AT_A_TIME:
            return
        last = rows[-1].id


def text_of_row(row: Row) -> str:
    """The text of a row that its hash is made over: every column but the hash."""
    names = [column.key for column in inspect(type(row)).columns if column.key != "hash"]
    return row_text({name: _plain(getattr(row, name)) for name in names})


def _plain(value: Any) -> str | int | None:
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="microseconds")
    return value.isoformat() if isinstance(value, date) else value
