"""Finished orders as templates: every row of one, with what each copy of it has of its own."""

import json
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from typing import Any

from sqlalchemy import Connection, Table, select

from studio.book.folding import digits, folded, words_of
from studio.book.tables import metadata
from studio.craft.orders import State

TABLES = (
    "customers", "fingers", "orders", "rings", "quotes", "quote_sendings", "agreements", "audit_entries",
)  # fmt: skip
"""What is copied, each table after those it points to."""
_POINTS_TO = {
    "customer_id": "customers",
    "finger_id": "fingers",
    "order_id": "orders",
    "quote_id": "quotes",
}
_DATE = r"\b\d{4}-\d{2}-\d{2}\b"


@dataclass(frozen=True, slots=True)
class Customer:
    """Who orders; `first` holds the id of the first row of theirs in each table that has some."""

    name: str
    phone: str
    email: str
    first: dict[str, int]


@dataclass(frozen=True, slots=True)
class Copy:
    """What one copy of a finished order has of its own. `first`: the id of its first row in each table."""

    days: int
    year: int
    serial: int
    customer: Customer
    first: dict[str, int]

    @property
    def number(self) -> str:
        return f"{self.year}-{self.serial}"


Cell = Callable[[Copy], Any]
"""What a copy has of its own in one place of a row."""
Cells = dict[str, list[list[Any]]]
"""By table its rows, each a list of values and of `Cell`s."""
Found = list[dict[str, Any]]
Rows = list[tuple[Any, ...]]


@dataclass(frozen=True, slots=True)
class Template:
    """A finished order: the day it was taken, the rows that every copy has, and those of a new customer."""

    taken_on: date
    own: Cells
    of_customer: Cells


def table_of(name: str) -> Table:
    return metadata().tables[name]


def templates_of(connection: Connection) -> list[Template]:
    """The finished orders of the demo, the first taken first."""
    orders = table_of("orders")
    finished = connection.execute(
        select(orders)
        .where(orders.c.state.in_([State.HANDED_OVER, State.CALLED_OFF]))
        .order_by(orders.c.created_at)
    )
    return [_template(connection, order) for order in finished.mappings().all()]


def _template(connection: Connection, order: Any) -> Template:
    def rows(name: str, column: str, ids: Sequence[int]) -> Found:
        table = table_of(name)
        found = connection.execute(select(table).where(table.c[column].in_(ids)).order_by(table.c.id))
        return [dict(row) for row in found.mappings()]

    rings = rows("rings", "order_id", [order["id"]])
    quotes = rows("quotes", "order_id", [order["id"]])
    customers = rows("customers", "id", [order["customer_id"]])
    own = {
        "fingers": rows("fingers", "id", [ring["finger_id"] for ring in rings]),
        "orders": [dict(order)],
        "rings": rings,
        "quotes": quotes,
        "quote_sendings": rows("quote_sendings", "quote_id", [quote["id"] for quote in quotes]),
        "agreements": rows("agreements", "order_id", [order["id"]]),
        "audit_entries": rows("audit_entries", "order_id", [order["id"]]),
    }
    theirs = {
        "customers": customers,
        "audit_entries": rows("audit_entries", "customer_id", [order["customer_id"]])[:1],
    }
    places = {
        name: {row["id"]: place for place, row in enumerate(found)}
        for name, found in (*own.items(), ("customers", customers))
    }
    own_words = _own_words(customers[0], order["number"])
    return Template(
        order["created_at"].date(), _filled(own, places, own_words), _filled(theirs, places, own_words)
    )


def _own_words(customer: dict[str, Any], number: str) -> re.Pattern[str]:
    """Where days, the order's number and the customer's name and contact stand in a text."""
    contact = {name: customer[name] for name in ("name", "phone", "email") if customer[name]}
    ways = {"day": _DATE, "number": rf"(?<![\d-]){number}(?!\d)"}
    ways |= {name: re.escape(value) for name, value in contact.items()}
    return re.compile("|".join(f"(?P<{name}>{way})" for name, way in ways.items()))


def _filled(found: dict[str, Found], places: dict[str, dict[int, int]], ours: re.Pattern[str]) -> Cells:
    is_customers = "customers" in found
    cells: Cells = {}
    for name, rows in found.items():
        cells[name] = []
        for place, row in enumerate(rows):
            its = {column: _cell(value, ours) for column, value in row.items()}
            its |= {
                column: _id_cell(table, places[table][row[column]], is_customers=table == "customers")
                for column, table in _POINTS_TO.items()
                if row.get(column) is not None
            }
            its["id"] = _id_cell(name, place, is_customers=is_customers)
            its |= _NEW.get(name, {})
            cells[name].append([its[column.name] for column in table_of(name).columns])
    return cells


folded_name = cache(folded)
words_of_name = cache(words_of)
_NEW: dict[str, dict[str, Cell]] = {
    "customers": {
        "name": lambda copy: copy.customer.name,
        "name_folded": lambda copy: folded_name(copy.customer.name),
        "phone": lambda copy: copy.customer.phone,
        "phone_reversed": lambda copy: digits(copy.customer.phone)[::-1],
        "email": lambda copy: copy.customer.email,
    },
    "orders": {"year": lambda copy: copy.year, "serial": lambda copy: copy.serial},
}
_PIECES: dict[str, Cell] = {
    "number": lambda copy: copy.number,
    "name": lambda copy: copy.customer.name,
    "phone": lambda copy: copy.customer.phone,
    "email": lambda copy: copy.customer.email,
}


def _id_cell(table: str, place: int, *, is_customers: bool) -> Cell:
    if is_customers:
        return lambda copy: copy.customer.first[table] + place
    return lambda copy: copy.first[table] + place


def _cell(value: Any, ours: re.Pattern[str]) -> Any:
    """One value of a row as every copy has it, or the function that gives a copy's own."""
    if isinstance(value, bool):
        return int(value)
    if isinstance(value, datetime):
        return _text_cell(f"{value.astimezone(UTC):%Y-%m-%d %H:%M:%S.%f}", ours)
    if isinstance(value, date):
        return _text_cell(value.isoformat(), ours)
    if isinstance(value, dict | list):
        return _text_cell(json.dumps(value, ensure_ascii=False, sort_keys=True), ours)
    return _text_cell(value, ours) if isinstance(value, str) else value


def _text_cell(text: str, ours: re.Pattern[str]) -> Any:
    pieces: list[Any] = []
    end = 0
    for found in ours.finditer(text):
        pieces += [text[end : found.start()], _piece(found)]
        end = found.end()
    pieces.append(text[end:])
    if len(pieces) == 1:
        return text
    return lambda copy: "".join([piece if isinstance(piece, str) else piece(copy) for piece in pieces])


def _piece(found: re.Match[str]) -> Cell:
    if found.lastgroup == "day":
        day = date.fromisoformat(found[0]).toordinal()
        return lambda copy: _day(day - copy.days)
    return _PIECES[str(found.lastgroup)]


@cache
def _day(ordinal: int) -> str:
    return date.fromordinal(ordinal).isoformat()


def filled_row(cells: list[Any], copy: Copy) -> tuple[Any, ...]:
    return tuple([cell(copy) if callable(cell) else cell for cell in cells])
