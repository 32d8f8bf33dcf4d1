"""Payments: each with its number, none ever changed, and the account that follows from them."""

from typing import Any

import pytest
from sqlmodel import Session, select

from studio.book.document_reads import document
from studio.book.errors import NoAgreement, VersionStale
from studio.book.orders import move_order, order
from studio.book.payment_errors import NothingPaid, PaymentUndone, PaymentUnknown
from studio.book.payment_tables import PaymentRow
from studio.book.payment_values import Sum
from studio.book.payments import give_back, take_payment, undo_payment
from studio.book.people import PROGRAM
from studio.craft.errors import Refused
from studio.craft.orders import State
from studio.craft.payments import Account, Method
from tests.builders import NOW, TODAY, an_order
from tests.quoting import a_quote, a_yes, paid, put_figures

FACTS: dict[str, Any] = {"actor": PROGRAM, "now": NOW}


def test_each_payment_has_its_number_and_a_receipt(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=1000)
    done = paid(session, stands.number, 2500, method=Method.CARD, reference=" slip  7 ")
    assert [(one.number, one.amount_minor, one.method, one.reference) for one in done.payments] == [
        ("2026-1-p1", 1000, Method.NOT_SAID, ""),
        ("2026-1-p2", 2500, Method.CARD, "slip 7"),
    ]
    assert done.payments[1].on == TODAY
    assert document(session, "2026-1-p2").sha256 is None
    assert done.agreement is not None
    assert done.account == Account(done.agreement.total_minor, 3500)
    assert done.history[-1].new == {"payment": "2026-1-p2", "amount_minor": 2500}


def test_no_more_is_paid_than_is_left(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=1000)
    left = stands.account.left_minor
    with pytest.raises(Refused) as told:
        paid(session, stands.number, left + 1)
    assert [one.field for one in told.value.refusals] == ["amount_minor"]
    assert paid(session, stands.number, left).account.left_minor == 0


def test_no_more_goes_back_than_was_paid(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=None)
    with pytest.raises(NothingPaid):
        give_back(session, number=stands.number, money=Sum(1), **FACTS)
    paid(session, stands.number, 700)
    with pytest.raises(Refused):
        give_back(session, number=stands.number, money=Sum(701), **FACTS)
    done = give_back(session, number=stands.number, money=Sum(700, Method.CASH), **FACTS)
    assert ([one.amount_minor for one in done.payments], done.account.paid_minor) == ([700, -700], 0)


def test_an_entry_is_taken_back_once_by_one_that_says_why(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=1000)
    with pytest.raises(Refused):
        undo_payment(session, payment="2026-1-p1", why="  ", **FACTS)
    done = undo_payment(session, payment="2026-1-p1", why="of another order", **FACTS)
    first, second = done.payments
    assert (first.undone_by, second.undoes, second.why) == ("2026-1-p2", "2026-1-p1", "of another order")
    assert (first.amount_minor + second.amount_minor, first.counts, second.counts) == (0, False, False)
    assert done.version == stands.version + 1
    for number in ("2026-1-p1", "2026-1-p2"):
        with pytest.raises(PaymentUndone):
            undo_payment(session, payment=number, why="again", **FACTS)
    with pytest.raises(PaymentUnknown):
        undo_payment(session, payment="2026-1-p3", why="never made", **FACTS)


def test_a_payment_says_which_version_it_was_read_on(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=None)
    for verb in (take_payment, give_back):
        with pytest.raises(VersionStale):
            verb(session, number=stands.number, money=Sum(1), version=stands.version - 1, **FACTS)


def test_before_the_yes_nothing_is_owed(session: Session) -> None:
    put_figures(session)
    asked = a_quote(session)
    with pytest.raises(NoAgreement):
        paid(session, asked.order_number, 100)
    assert order(session, asked.order_number).account == Account(0, 0)


def test_money_stays_with_the_order_when_the_yes_is_taken_back(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=1000)
    facts: dict[str, Any] = {"number": stands.number, "reason": "He wants to think.", **FACTS}
    back = move_order(session, to=State.QUOTED, version=stands.version, **facts)
    assert back.account == Account(0, 1000)
    assert back.account.back_minor == 1000
    again = a_yes(session, back.quotes[-1], deposit_minor=None)
    assert again.agreement is not None
    assert again.agreement.paid_minor == 1000


def test_an_order_called_off_owes_what_was_settled(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=5000)
    facts: dict[str, Any] = {"number": stands.number, "reason": "The wedding is put off.", **FACTS}
    off = move_order(session, to=State.CALLED_OFF, version=stands.version, **facts)
    assert off.account == Account(None, 5000)
    done = give_back(session, number=off.number, money=Sum(5000), **FACTS)
    assert done.account.paid_minor == 0


def test_rows_of_payments_are_only_added(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, an_offer(session), deposit_minor=1000)
    before = [row.model_dump() for row in session.exec(select(PaymentRow)).all()]
    paid(session, stands.number, 500)
    undo_payment(session, payment=stands.payments[0].number, why="wrong", **FACTS)
    after = [row.model_dump() for row in session.exec(select(PaymentRow).order_by("id")).all()]
    assert after[: len(before)] == before
    assert len(after) == len(before) + 2


def an_offer(session: Session) -> Any:
    return a_quote(session, an_order(session))
