"""Finding by what somebody remembers: a name, a number, the end of a telephone number.

A search has two ways, so that it is quick in a book of any size. Where few are found, they are looked up by
their words and put in order then. Where many are, the list is walked in its own order, and each line is asked
whether it is one of them: a page is soon full.
"""

from typing import NamedTuple

from sqlalchemy import ColumnElement, SQLColumnExpression, and_, exists, false, or_
from sqlalchemy import select as pick
from sqlalchemy.orm import aliased
from sqlmodel import Session, col

from studio.book.customer_tables import CustomerRow, CustomerWordRow
from studio.book.folding import folded, looks_like_phone, phone_endings
from studio.book.order_numbers import read_number
from studio.book.order_tables import OrderRow

MOST_FOUND = 1_000
"""Up to so many customers are looked up for a search, and nobody counts orders any further."""
_MOST_ROWS = 2 * MOST_FOUND + 1
_LAST_SIGN = "\U0010ffff"
"""The last sign there is: all that begins like a word lies between it and it with this sign behind."""
_MOST_DIGITS = 40
"""No telephone number is longer: what begins with some digits ends at the latest with nines up to here."""


class FoundOrder(NamedTuple):
    """An order's place in the list, and its state."""

    year: int
    serial: int
    state: str
    id: int


_ORDERS = pick(col(OrderRow.year), col(OrderRow.serial), col(OrderRow.state), col(OrderRow.id))


def found_orders(session: Session, query: str, *, by_phone: bool = True) -> list[FoundOrder] | None:
    """The orders found by `query` as a name, a number or the end of a telephone number, the newest first.

    None where more than `MOST_FOUND` customers are; `is_found_order` tells the orders then. Without
    `by_phone` no telephone number is looked at: who may not see one does not find by it either.
    """
    number, serial = read_number(query), _serial(query)
    ways: list[ColumnElement[bool]] = []
    if number is not None:
        ways.append(and_(col(OrderRow.year) == number.year, col(OrderRow.serial) == number.serial))
    else:
        customers, is_all = _customers_found(session, query, by_phone=by_phone)
        if not is_all:
            return None
        if customers:
            ways.append(col(OrderRow.customer_id).in_(customers))
        if serial is not None:
            ways.append(col(OrderRow.serial) == serial)
    found = {
        FoundOrder(*row) for way in ways for row in session.connection().execute(_ORDERS.where(way)).all()
    }
    return sorted(found, reverse=True)


def found_customers(session: Session, query: str, limit: int) -> list[int]:
    """The ids of the customers found by `query` as a name or the end of a telephone number: `limit` by name.

    Where they are more than `MOST_FOUND`, it is the oldest of them: so many nobody looks through.
    """
    customers, is_all = _customers_found(session, query, by_phone=True)
    if not is_all:
        return sorted(customers)[:limit]
    named = (
        pick(col(CustomerRow.id))
        .where(col(CustomerRow.id).in_(customers))
        .order_by(col(CustomerRow.name_folded), col(CustomerRow.id))
    )
    return list(session.connection().execute(named.limit(limit)).scalars())


def is_found_order(query: str, *, by_phone: bool = True) -> ColumnElement[bool]:
    """The condition by which an order, its customer beside it, is one of the many that `query` finds."""
    number, serial = read_number(query), _serial(query)
    if number is not None:
        return and_(col(OrderRow.year) == number.year, col(OrderRow.serial) == number.serial)
    ways = [_is_named(col(OrderRow.customer_id), query)]
    if by_phone and looks_like_phone(query):
        ways.append(_ends_in(query))
    if serial is not None:
        ways.append(col(OrderRow.serial) == serial)
    return or_(*ways)


def _customers_found(session: Session, query: str, *, by_phone: bool) -> tuple[set[int], bool]:
    """The ids of the customers that `query` finds, and whether `MOST_FOUND` is enough for all of them."""
    ways = []
    if words := _words(query):
        # The longest word is looked up, the others are asked for: it is met least often.
        longest, *rest = sorted(words, key=lambda word: (-len(word), word))
        customer = col(CustomerWordRow.customer_id)
        named = pick(customer).where(_begins(col(CustomerWordRow.word), longest))
        ways.append(named.where(*(_has_word(customer, word) for word in rest)))
    if by_phone and looks_like_phone(query):
        ways.append(pick(col(CustomerRow.id)).where(_ends_in(query)))
    found: set[int] = set()
    for way in ways:
        # A name in which two words begin alike comes twice. To ask for different ones would have a server
        # look all of them up before it gives the first.
        rows = session.connection().execute(way.limit(_MOST_ROWS)).scalars().all()
        found.update(rows)
        if len(found) > MOST_FOUND or len(rows) == _MOST_ROWS:
            return found, False
    return found, True


def _is_named(customer: SQLColumnExpression[int], query: str) -> ColumnElement[bool]:
    words = _words(query)
    return and_(*(_has_word(customer, word) for word in words)) if words else false()


def _has_word(customer: SQLColumnExpression[int], word: str) -> ColumnElement[bool]:
    """The condition that a word of the customer's name begins like this one, accents and case aside."""
    one = aliased(CustomerWordRow)
    return exists().where(col(one.customer_id) == customer, _begins(col(one.word), word))


def _begins(column: SQLColumnExpression[str], word: str) -> ColumnElement[bool]:
    return and_(column >= word, column <= word + _LAST_SIGN)


def _words(query: str) -> set[str]:
    """The words of `query` as names are searched; none where no name holds them, as with the sign NUL."""
    words = set(folded(query).split())
    return set() if any("\0" in word for word in words) else words


def _ends_in(query: str) -> ColumnElement[bool]:
    """The condition that the customer's telephone number ends in the digits of `query`, however spelled."""
    return or_(*(_reads_back(ending[::-1]) for ending in phone_endings(query)))


def _reads_back(start: str) -> ColumnElement[bool]:
    return col(CustomerRow.phone_reversed).between(start, start.ljust(_MOST_DIGITS, "9"))


def _serial(query: str) -> int | None:
    """The serial that is typed without its year, or None."""
    typed = query.strip()
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) <= 9 else None
