"""Deposits that were noted before payments had a table of their own are payments afterwards."""

from sqlalchemy import Engine, text

from studio.book.engine import session
from studio.book.orders import order
from studio.book.schema import bring_up_to_date
from studio.craft.missing import Deposit
from studio.craft.payments import Method
from tests.builders import NOW
from tests.migrations.old_books import old_book

AGREED = "2026-6"


def test_a_deposit_of_a_yes_that_holds_is_its_order_s_first_payment(empty: Engine) -> None:
    old_book(empty, "0031")
    with empty.begin() as connection:
        connection.execute(text("UPDATE agreements SET ended_at = NULL"))
        connection.execute(text("UPDATE quotes SET state = 'agreed' WHERE number = '2026-6-q1'"))
    bring_up_to_date(empty, now=NOW)
    with session(empty) as book:
        found = order(book, AGREED)
    (payment,) = found.payments
    assert (payment.number, payment.amount_minor, payment.currency) == (f"{AGREED}-p1", 40800, "GBP")
    assert (payment.method, payment.on.isoformat(), payment.actor) == (
        Method.NOT_SAID, "2026-11-13", "Pavel",
    )  # fmt: skip
    assert found.agreement is not None
    assert (found.agreement.paid_minor, found.agreement.deposit) == (40800, Deposit.SETTLED)


def test_a_deposit_of_a_yes_that_was_taken_back_is_none(empty: Engine) -> None:
    old_book(empty, "0031")
    bring_up_to_date(empty, now=NOW)
    with session(empty) as book:
        assert order(book, AGREED).payments == ()
