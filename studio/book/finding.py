"""Finding by what somebody remembers: a name, a number, the end of a telephone number."""

from sqlalchemy import ColumnElement, and_, false, or_
from sqlmodel import col

from studio.book.customer_tables import CustomerRow
from studio.book.folding import digits, folded, looks_like_phone
from studio.book.order_numbers import read_number
from studio.book.order_tables import OrderRow


def found_by(query: str | None, *, by_phone: bool = True) -> list[ColumnElement[bool]]:
    """The condition that finds `query` as a name, a number or a telephone number; none for an empty one.

    Without `by_phone` no telephone number is looked at: who may not see one does not find by it either.
    """
    typed = (query or "").strip()
    if not typed:
        return []
    number = read_number(typed)
    if number is not None:
        return [and_(col(OrderRow.year) == number.year, col(OrderRow.serial) == number.serial)]
    ways: list[ColumnElement[bool]] = [by_name(typed)]
    if typed.isascii() and typed.isdigit() and len(typed) <= 9:
        ways.append(col(OrderRow.serial) == int(typed))
    if by_phone and looks_like_phone(typed):
        ways.append(by_phone_number(typed))
    return [or_(*ways)]


def by_name(typed: str) -> ColumnElement[bool]:
    """The condition that every word of `typed` stands in the customer's name, accents and case aside."""
    words = folded(typed).split()
    if not words or any("\0" in word for word in words):
        return false()  # no name holds the sign NUL, and PostgreSQL would not even look for it
    return and_(*(col(CustomerRow.name_folded).contains(word, autoescape=True) for word in words))


def by_phone_number(typed: str) -> ColumnElement[bool]:
    """The condition that the customer's telephone number ends in the digits of `typed`, at most nine.

    Nine are enough to tell numbers apart, and leave out the start that is dialled or not (+44 or 0).
    """
    return col(CustomerRow.phone_reversed).startswith(digits(typed)[::-1][:9], autoescape=True)
