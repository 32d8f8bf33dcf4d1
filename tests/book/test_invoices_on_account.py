"""Payments on account: each with an invoice of its own, taken off the invoice of the whole."""

from decimal import Decimal

import pytest
from sqlmodel import Session

from studio.book.invoice_errors import (
    CreditFirst,
    InvoicedAlready,
    NotOnAccount,
    PaymentInvoiced,
    WhyNotOnAccount,
)
from studio.book.invoices import issued_invoice_to_print
from studio.book.orders import order
from studio.book.payment_errors import PaymentUnknown
from studio.book.payment_values import Sum
from studio.book.payments import give_back, undo_payment
from studio.book.people import PROGRAM
from studio.craft.invoicing import AtRate, InvoiceKind, Taxed, summed, tax_within
from studio.craft.orders import State
from studio.papers.printing import printed
from tests.builders import NOW, one_step
from tests.invoicing import credited, invoiced, on_account, says
from tests.papers.printed import text_of
from tests.quoting import a_yes, paid, put_figures, unpaid

TWENTY = Decimal(20)


def so_far(session: Session, number: str) -> Taxed:
    return summed(one.taxed for one in order(session, number).invoices)


def test_a_payment_on_account_has_its_own_invoice_once(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session, deposit_minor=11_582)
    with pytest.raises(NotOnAccount) as told:
        on_account(session, "2026-1-p1")
    assert told.value.why is WhyNotOnAccount.NOT_SET
    assert stands.to_invoice == ()
    says(session)
    assert order(session, stands.number).to_invoice == ("2026-1-p1",)
    made = on_account(session, "2026-1-p1")
    assert (made.kind, made.payment) == (InvoiceKind.ON_ACCOUNT, "2026-1-p1")
    assert made.sums == (AtRate(TWENTY, tax_within(11_582, TWENTY)),)
    with pytest.raises(PaymentInvoiced):
        on_account(session, "2026-1-p1")
    with pytest.raises(PaymentUnknown):
        on_account(session, "2026-1-p7")
    assert order(session, stands.number).to_invoice == ()
    assert order(session, stands.number).history[-1].new == {"invoice": "2026-0001", "payment": "2026-1-p1"}


def test_the_invoice_takes_off_what_was_invoiced_on_account_and_closes(session: Session) -> None:
    put_figures(session)
    says(session)
    stands = a_yes(session, deposit_minor=11_582)
    paid(session, stands.number, 3_333)
    first = on_account(session, "2026-1-p1")
    last = invoiced(session, stands.number)
    (quoted,) = stands.quotes
    assert first.taxed + last.taxed == Taxed(quoted.net_minor, quoted.tax_minor)
    words = text_of(printed(issued_invoice_to_print(session, last.number)))
    left = quoted.total_minor - 11_582 - 3_333
    for said in ("Less invoice 2026-0001", "Paid £33.33", f"Left to pay £{left / 100:,.2f}"):
        assert said in words, words


def test_what_was_not_paid_or_went_back_has_no_invoice_of_its_own(session: Session) -> None:
    put_figures(session)
    says(session)
    stands = a_yes(session, deposit_minor=5_000)
    give_back(session, number=stands.number, money=Sum(2_000), actor=PROGRAM, now=NOW)
    undo_payment(session, payment="2026-1-p1", why="Another's", actor=PROGRAM, now=NOW)
    told = []
    for payment in ("2026-1-p1", "2026-1-p2", "2026-1-p3"):
        with pytest.raises(NotOnAccount) as refused:
            on_account(session, payment)
        told.append(refused.value.why)
    assert told == [WhyNotOnAccount.TAKEN_BACK, WhyNotOnAccount.GIVEN_BACK, WhyNotOnAccount.TAKEN_BACK]
    assert order(session, stands.number).to_invoice == ()


def test_after_the_hand_over_and_beside_the_invoice_nothing_is_on_account(session: Session) -> None:
    put_figures(session)
    says(session)
    stands = a_yes(session, deposit_minor=11_582)
    invoiced(session, stands.number)
    with pytest.raises(InvoicedAlready):
        on_account(session, "2026-1-p1")
    credited(session, "2026-0001")
    one_step(session, order(session, stands.number), State.AT_THE_BENCH)
    one_step(session, order(session, stands.number), State.READY)
    one_step(session, order(session, stands.number), State.HANDED_OVER)
    with pytest.raises(NotOnAccount) as told:
        on_account(session, "2026-1-p1")
    assert told.value.why is WhyNotOnAccount.AFTERWARDS
    assert order(session, stands.number).to_invoice == ()


def test_more_on_account_than_was_paid_waits_for_a_credit_note(session: Session) -> None:
    put_figures(session)
    says(session)
    stands = a_yes(session, deposit_minor=11_582)
    first = on_account(session, "2026-1-p1")
    unpaid(session, order(session, stands.number))
    with pytest.raises(CreditFirst) as told:
        invoiced(session, stands.number)
    assert (told.value.asked_minor, told.value.left_minor) == (11_582, 0)
    credited(session, first.number)
    made = invoiced(session, stands.number)
    assert stands.agreement is not None
    assert (
        made.taxed.gross_minor == so_far(session, stands.number).gross_minor == stands.agreement.total_minor
    )
