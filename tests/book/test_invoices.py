"""Invoices of an order, on account too, and credit notes: numbered without gaps, and none ever changed."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from sqlalchemy import text
from sqlmodel import Session

from studio.book.calling_off import settle_up
from studio.book.customers import customer
from studio.book.errors import OrderUnknown
from studio.book.invoice_errors import (
    InvoicedAlready,
    InvoicePdfNotYet,
    InvoiceUnknown,
    NothingToCredit,
    NotInvoiced,
    WhyNotInvoiced,
)
from studio.book.invoice_reads import invoice, invoice_pdf
from studio.book.invoice_values import Invoice
from studio.book.invoices import issued_invoice_to_print, put_invoice_pdf
from studio.book.orders import move_order, order
from studio.book.people import PROGRAM
from studio.book.rates import put_rates
from studio.craft.errors import Refused
from studio.craft.invoicing import AtRate, InvoiceKind, Taxed, summed, tax_within
from studio.craft.orders import State
from studio.papers.printing import printed
from tests.amending import LATER, NARROWER, agreed, changing, issued
from tests.book.test_calling_off import called_off, with_table
from tests.builders import NOW, TODAY, an_order, one_step
from tests.invoicing import ADDRESS, credited, invoiced, says
from tests.papers.printed import text_of
from tests.quoting import RATES, a_quote, a_yes, paid, put_figures

TWENTY = Decimal(20)


def so_far(session: Session, number: str) -> Taxed:
    return summed(one.taxed for one in order(session, number).invoices)


def test_an_invoice_has_the_agreed_lines_and_the_next_number(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session)
    assert stands.agreement is not None
    made = invoiced(session, stands.number)
    assert (made.number, made.kind, made.issued_on) == ("2026-0001", InvoiceKind.INVOICE, TODAY)
    assert made.customer == "Jorun Müller"
    assert made.taxed.gross_minor == stands.agreement.total_minor
    (quoted,) = stands.quotes
    assert made.sums == (AtRate(TWENTY, Taxed(quoted.net_minor, quoted.tax_minor)),)
    now = order(session, stands.number)
    assert now.invoices == (made,)
    assert now.version == stands.version
    assert (now.history[-1].verb, now.history[-1].new) == ("issue an invoice", {"invoice": "2026-0001"})


def test_what_was_chosen_and_amended_is_what_is_invoiced(session: Session) -> None:
    stands = agreed(session)
    amendment = issued(session, stands, changing(stands, **NARROWER))
    now = a_yes(session, amendment, deposit_minor=None, now=LATER)
    assert now.agreement is not None
    assert now.agreement.is_amended
    made = invoiced(session, stands.number)
    assert made.taxed.gross_minor == now.agreement.total_minor


@pytest.mark.parametrize("state", [State.DRAFT, State.QUOTED, State.AGREED])
def test_nothing_is_invoiced_before_the_yes_to_a_quote(session: Session, state: State) -> None:
    stands = an_order(session, state=state)  # agreed, it is one from before there were quotes
    with pytest.raises(NotInvoiced) as told:
        invoiced(session, stands.number)
    assert told.value.why is WhyNotInvoiced.NOT_AGREED
    with pytest.raises(OrderUnknown):
        invoiced(session, "2026-99")


def test_a_second_invoice_waits_until_all_of_the_first_is_credited(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session)
    first = invoiced(session, stands.number)
    with pytest.raises(InvoicedAlready) as told:
        invoiced(session, stands.number)
    assert told.value.invoice == first.number
    credited(session, first.number, 100)
    with pytest.raises(InvoicedAlready):
        invoiced(session, stands.number)
    credited(session, first.number)
    again = invoiced(session, stands.number)
    assert again.number == "2026-0004"
    assert so_far(session, stands.number) == again.taxed == first.taxed


def test_the_day_of_the_hand_over_is_that_of_the_supply(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session)
    days = [timedelta(days=day) for day in (1, 2, 3)]
    for state, later in zip((State.AT_THE_BENCH, State.READY, State.HANDED_OVER), days, strict=True):
        one_step(session, order(session, stands.number), state, now=NOW + later)
    made = invoiced(session, stands.number, now=NOW + timedelta(days=9))
    words = text_of(printed(issued_invoice_to_print(session, made.number)))
    assert "Date of issue 4 December 2026 Date of supply 28 November 2026" in words


def test_a_credit_note_takes_back_a_part_and_then_the_rest(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session)
    whole = invoiced(session, stands.number)
    part = credited(session, whole.number, 1_001, why=" The  setting ")
    assert (part.kind, part.credits, part.reason) == (InvoiceKind.CREDIT_NOTE, whole.number, "The setting")
    assert part.taxed == Taxed(-834, -167)  # 1,001 x 20 / 120 = 166.8
    now = invoice(session, whole.number)
    assert (now.taxed, now.left) == (whole.taxed, whole.taxed + part.taxed)
    assert now.is_to_credit
    rest = credited(session, whole.number)
    assert part.taxed + rest.taxed == -whole.taxed
    assert invoice(session, whole.number).is_credited
    for number, is_note in ((whole.number, False), (rest.number, True)):
        with pytest.raises(NothingToCredit) as told:
            credited(session, number)
        assert told.value.is_credit_note is is_note
    last = order(session, stands.number).history[-1]
    assert (last.verb, last.new) == ("issue a credit note", {"invoice": rest.number, "credits": whole.number})
    assert last.reason == "A mistake"


@pytest.mark.parametrize(
    ("gross", "why", "field"),
    [(0, "x", "amount_minor"), (-1, "x", "amount_minor"), (10**8, "x", "amount_minor"), (None, "  ", "why"),
     (None, "x" * 201, "why")],
)  # fmt: skip
def test_a_credit_note_that_cannot_be_is_refused_at_its_field(
    session: Session, gross: int | None, why: str, field: str
) -> None:
    put_figures(session)
    made = invoiced(session, a_yes(session).number)
    with pytest.raises(Refused) as told:
        credited(session, made.number, gross, why=why)
    assert [one.field for one in told.value.refusals] == [field]
    with pytest.raises(InvoiceUnknown):
        credited(session, "2026-0099")


def test_of_an_order_called_off_what_is_owed_is_invoiced_in_one_line(session: Session) -> None:
    with_table(session)
    stands = agreed(session)
    assert stands.agreement is not None
    called_off(session, stands)
    made = invoiced(session, stands.number)
    owed = order(session, stands.number).calling_off
    assert owed is not None
    assert owed.settlement is not None
    assert made.sums == (AtRate(TWENTY, tax_within(owed.settlement.owed_minor, TWENTY)),)
    words = text_of(printed(issued_invoice_to_print(session, made.number)))
    assert "What is owed of order" in words


def test_of_an_order_called_off_nothing_is_invoiced_while_nobody_said_what_is_owed(session: Session) -> None:
    stands = agreed(session)
    called_off(session, stands)
    for why in (WhyNotInvoiced.OWED_NOT_SAID, WhyNotInvoiced.NOTHING_OWED):
        with pytest.raises(NotInvoiced) as told:
            invoiced(session, stands.number)
        assert told.value.why is why
        version = order(session, stands.number).version
        settle_up(session, number=stands.number, owed_minor=0, version=version, actor=PROGRAM, now=NOW)


def test_an_invoice_never_changes_whatever_changes_after_it(session: Session) -> None:
    """Its paper is made when everything around it has changed."""
    put_figures(session)
    says(session, tax_number="GB 999 9999 73", invoice_note="Pay within 14 days.", invoice_prefix="WR-")
    stands = a_yes(session)
    made = invoiced(session, stands.number, address=ADDRESS)
    assert made.number == "WR-2026-0001"
    before = printed(issued_invoice_to_print(session, made.number))
    for said in ("GB 999 9999 73", "Pay within 14 days.", "12 Saltmarsh Row Harwell Staithe"):
        assert said in text_of(before)
    assert customer(session, stands.customer.id).address == ADDRESS
    put_rates(session, rates=replace(RATES, tax_percent=Decimal(7)), actor=PROGRAM, now=NOW)
    says(session, name="Otherwise", tax_name="Other tax", tax_number="", invoice_note="", invoice_prefix="")
    paid(session, stands.number, 100)
    with pytest.raises(InvoicePdfNotYet):
        invoice_pdf(session, made.number)
    assert printed(issued_invoice_to_print(session, made.number)) == before
    kept = put_invoice_pdf(session, number=made.number, pdf=before, now=NOW)
    put_invoice_pdf(session, number=made.number, pdf=b"another", now=NOW)
    assert invoice_pdf(session, made.number) == before
    assert replace(kept, sha256=None) == made
    assert invoiced_next(session).number == "2026-0002"


def invoiced_next(session: Session) -> Invoice:
    return invoiced(session, a_yes(session, a_quote(session, an_order(session))).number)


def test_a_studio_without_tax_shows_none(session: Session) -> None:
    put_figures(session)
    says(session, tax_number="GB 999 9999 73")
    put_rates(session, rates=replace(RATES, tax_percent=Decimal(0)), actor=PROGRAM, now=NOW)
    made = invoiced(session, a_yes(session).number)
    words = text_of(printed(issued_invoice_to_print(session, made.number)))
    for never in ("VAT", "GB 999", "%"):
        assert never not in words


def test_one_series_for_all_kinds_begins_anew_each_year_of_the_studios_zone(
    session: Session,
) -> None:
    put_figures(session)
    says(session, time_zone="Pacific/Auckland")
    stands = a_yes(session)
    late = datetime(2026, 12, 31, 10, 59, tzinfo=UTC)  # 23:59 in Auckland
    first = invoiced(session, stands.number, now=late)
    note = credited(session, first.number, now=late + timedelta(minutes=2))
    assert (first.number, first.issued_on) == ("2026-0001", date(2026, 12, 31))
    assert (note.number, note.issued_on) == ("2027-0001", date(2027, 1, 1))


def test_what_is_not_saved_uses_up_no_number(session: Session) -> None:
    put_figures(session)
    stands = a_yes(session)
    broken = a_yes(session, a_quote(session, an_order(session)))
    invoiced(session, stands.number)
    with pytest.raises(InvoicedAlready):
        invoiced(session, stands.number)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("studio.book.invoices.note", _falls)
        with pytest.raises(ZeroDivisionError):
            invoiced(session, broken.number)
    assert order(session, broken.number).invoices == ()
    assert invoiced(session, broken.number).number == "2026-0002"
    last = session.connection().execute(text("SELECT year, last FROM invoice_counters")).all()
    assert [tuple(row) for row in last] == [(2026, 2)]


def _falls(*_: object, **__: object) -> None:
    raise ZeroDivisionError


def test_an_invoice_that_is_not_there_is_told(session: Session) -> None:
    for ask in (invoice, invoice_pdf, issued_invoice_to_print):
        with pytest.raises(InvoiceUnknown):
            ask(session, "2026-0001")
    with pytest.raises(InvoiceUnknown):
        put_invoice_pdf(session, number="2026-0001", pdf=b"", now=NOW)


def test_an_order_that_is_taken_up_again_may_be_invoiced_again(session: Session) -> None:
    with_table(session)
    stands = agreed(session)
    called_off(session, stands)
    first = invoiced(session, stands.number)
    credited(session, first.number)
    move_order(
        session, number=stands.number, to=State.DRAFT, version=order(session, stands.number).version,
        reason="After all", actor=PROGRAM, now=NOW,
    )  # fmt: skip
    with pytest.raises(NotInvoiced):
        invoiced(session, stands.number)
    again = a_yes(session, a_quote(session, order(session, stands.number)), deposit_minor=None)
    assert invoiced(session, again.number).number == "2026-0003"
