"""The invoices of an order on its page: who makes them, what is asked, and what is told."""

from datetime import timedelta

import pytest

from studio.book.invoice_reads import invoice
from studio.book.orders import order
from studio.book.studio import studio
from studio.craft.roles import Role
from studio.papers.pool import Cause, PaperNotMade
from tests.book.test_calling_off import called_off
from tests.builders import NOW, an_order
from tests.invoicing import ADDRESS, credited, invoiced, on_account, says
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes, paid, unpaid
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import set_up
from tests.web.shown import Shown

NUMBER = "2026-1"
PAGE = f"/orders/{NUMBER}"
MAKE, CREDIT = f"{PAGE}/invoices", f"{PAGE}/credit-notes"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """A studio with an agreed order, 115.82 of it paid."""
    opened = a_morning(house, monkeypatch)
    with opened.book() as book:
        set_up(book)
        a_yes(book, a_quote(book, an_order(book)), deposit_minor=11_582)
    return opened


def actions(page: Shown) -> set[str]:
    return {form.action for form in page.forms}


def press(morning: Morning, button: str = "Make the invoice", **typed: str) -> Shown:
    """The order's page after a button that makes an invoice."""
    filled = morning.see(PAGE, Role.COUNTER).form(MAKE).filled(button, **typed)
    status, where, page = morning.send(MAKE, filled, Role.COUNTER)
    assert (status, where) == (303, f"{PAGE}#invoices"), page.words
    return morning.see(PAGE, Role.COUNTER)


def credit(morning: Morning, status: int, **typed: str) -> Shown:
    """The page that answers the form for a credit note; the order's where it was made."""
    filled = morning.see(PAGE, Role.COUNTER).form(CREDIT).filled(**typed)
    told, _, page = morning.send(CREDIT, filled, Role.COUNTER)
    assert told == status, page.words
    return morning.see(PAGE, Role.COUNTER) if status == 303 else page


def test_the_counter_makes_an_invoice_and_its_paper_is_served_as_it_was_made(morning: Morning) -> None:
    page = press(morning)
    assert "2026-0001 Invoice, £" in page.words
    assert "Jorun Müller" in page.words
    status, kind, paper = morning.fetch("/invoices/2026-0001.pdf", Role.COUNTER)
    assert (status, kind) == (200, "application/pdf")
    assert "Invoice 2026-0001" in text_of(paper)
    with morning.book() as book:
        says(book, name="Otherwise")
    assert morning.fetch("/invoices/2026-0001.pdf")[2] == paper
    assert "made an invoice, 2026-0001." in page.words


def test_makers_neither_see_invoices_nor_make_any(morning: Morning) -> None:
    page = press(morning)
    assert MAKE not in actions(page)  # one stands
    seen = morning.see(PAGE, Role.MAKER)
    assert "Invoices" not in seen.words
    assert CREDIT not in actions(seen)
    assert morning.fetch("/invoices/2026-0001.pdf", Role.MAKER)[0] == 403
    assert morning.send(MAKE, {"what": "invoice"}, Role.MAKER)[0] == 403


def test_before_the_yes_there_is_no_section_of_invoices(morning: Morning) -> None:
    with morning.book() as book:
        number = an_order(book).number
    assert "Invoices" not in morning.see(f"/orders/{number}").words
    status, _, page = morning.send(f"/orders/{number}/invoices", {"what": "invoice"})
    assert status == 409
    assert "No invoice was made" in page.words
    assert f"Nobody has said yes to a quote of {number}" in page.words


def test_a_postal_address_is_asked_for_once_and_is_the_customers_from_then_on(morning: Morning) -> None:
    page = morning.see(PAGE, Role.COUNTER)
    assert "None is in the book. An invoice for a small sum does without." in page.words
    press(morning, invoice_address=f"  {ADDRESS} \r\n\r\n")
    with morning.book() as book:
        assert order(book, NUMBER).customer.address == ADDRESS
        credited(book, "2026-0001")
    page = morning.see(PAGE, Role.COUNTER)
    assert "None is in the book." not in page.words
    customer = morning.see("/customers/1", Role.COUNTER).form("/customers/1")
    assert customer.fields["address"] == ADDRESS
    assert morning.send(customer.action, customer.filled(address=""), Role.COUNTER)[0] == 303
    with morning.book() as book:
        assert order(book, NUMBER).customer.address == ""


def test_an_address_that_cannot_stand_is_told_beside_its_field(morning: Morning) -> None:
    typed = "\n".join(f"line {place}" for place in range(6))
    filled = morning.see(PAGE, Role.COUNTER).form(MAKE).filled("Make the invoice", invoice_address=typed)
    status, _, page = morning.send(MAKE, filled, Role.COUNTER)
    assert status == 422
    assert "An address has up to 5 lines; here are 6." in page.described["f-invoice-address-wrong"]
    assert page.form(MAKE).fields["invoice_address"] == typed
    with morning.book() as book:
        assert order(book, NUMBER).invoices == ()


def test_a_payment_has_a_button_of_its_own_where_the_studio_says_so(morning: Morning) -> None:
    assert "on account" not in morning.see(PAGE, Role.COUNTER).words
    with morning.book() as book:
        says(book)
    page = press(morning, "Invoice 2026-1-p1 on account, £115.82")
    assert "2026-0001 Invoice on account, £115.82" in page.words
    assert "for 2026-1-p1" in page.words
    assert "made an invoice on account, 2026-0001 for 2026-1-p1." in page.words
    with morning.book() as book:
        unpaid(book, order(book, NUMBER))
    assert "that payment was taken back, so credit this" in morning.see(PAGE).words
    status, _, page = morning.send(MAKE, {"what": "invoice"})
    assert status == 409
    assert (
        "£115.82 were invoiced on account, and £0.00 of that are owed and paid. Make a credit note over "
        "£115.82 first." in page.words
    )


@pytest.mark.parametrize(
    ("what", "status", "words"),
    [
        ("2026-1-p1", 409, "The studio makes no invoices for payments on account. The Studio page says so."),
        ("2026-2-p1", 422, "Choose a payment of this order."),
    ],
)
def test_a_payment_that_has_no_invoice_of_its_own_is_told(
    morning: Morning, what: str, status: int, words: str
) -> None:
    told, _, page = morning.send(MAKE, {"what": what})
    assert told == status
    assert words in page.words


def test_what_the_book_refuses_is_told_in_words(morning: Morning) -> None:
    with morning.book() as book:
        says(book)
        paid(book, NUMBER, 100)
        on_account(book, "2026-1-p1")
        whole = invoiced(book, NUMBER).number
        note = credited(book, whole, 100).number
    for fields, action, words in (
        ({"what": "invoice"}, MAKE, f"has invoice {whole}. Credit all of it before you make another."),
        ({"what": "2026-1-p1"}, MAKE, "2026-1-p1 has an invoice of its own already, 2026-0001."),
        ({"what": "2026-1-p2"}, MAKE, f"has invoice {whole}."),
        ({"credit_of": note, "credit_why": "x"}, CREDIT, f"{note} is a credit note. Make a new invoice"),
    ):
        status, _, page = morning.send(action, fields)
        assert status == 409
        assert words in page.words, page.words


def test_a_credit_note_takes_back_a_part_and_then_all_that_is_left(morning: Morning) -> None:
    press(morning)
    page = credit(morning, 303, credit_amount="£10", credit_why="The setting was not needed")
    assert "2026-0002 Credit note, -£10.00" in page.words
    assert "takes back 2026-0001: The setting was not needed" in page.words
    assert "£10.00 of it credited" in page.words
    assert "made a credit note, 2026-0002." in page.words
    page = credit(morning, 303, credit_why="All of it")
    assert CREDIT not in actions(page)
    assert MAKE in actions(page)
    assert "Credits invoice 2026-0001" in text_of(morning.fetch("/invoices/2026-0003.pdf")[2])
    status, _, page = morning.send(CREDIT, {"credit_of": "2026-0001", "credit_why": "again"})
    assert status == 409
    assert "All of 2026-0001 is credited already." in page.words


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ({"credit_why": ""}, "credit-why", "The reason is not given yet."),
        ({"credit_why": "x" * 201}, "credit-why", "This is too long"),
        ({"credit_why": "x", "credit_amount": "ten"}, "credit-amount", "We cannot read this as a number."),
        ({"credit_why": "x", "credit_amount": "0"}, "credit-amount", "The amount has to be above 0."),
        (
            {"credit_why": "x", "credit_amount": "99999"},
            "credit-amount",
            "is more than we can use for the amount",
        ),
        ({"credit_why": "x", "credit_of": "2026-0099"}, "credit-of", "Choose an invoice of this order."),
    ],
)
def test_what_cannot_be_credited_is_told_beside_its_field_and_stays_typed(
    morning: Morning, typed: dict[str, str], field: str, words: str
) -> None:
    press(morning)
    page = credit(morning, 422, **typed)
    assert words in page.described[f"f-{field}-wrong"], page.described
    assert page.form(CREDIT).fields["credit_why"] == typed["credit_why"]
    with morning.book() as book:
        assert len(order(book, NUMBER).invoices) == 1


def test_a_form_sent_twice_makes_one_invoice(morning: Morning) -> None:
    filled = morning.see(PAGE, Role.COUNTER).form(MAKE).filled("Make the invoice")
    for _ in range(2):
        assert morning.send(MAKE, filled, Role.COUNTER)[0] == 303
    with morning.book() as book:
        assert [one.number for one in order(book, NUMBER).invoices] == ["2026-0001"]


def test_an_invoice_whose_paper_could_not_be_made_stands_and_is_printed_when_it_is_opened(
    morning: Morning,
) -> None:
    class Busy:
        async def pdf(self, _paper: object) -> bytes:
            raise PaperNotMade(Cause.TOO_SLOW)

    filled = morning.see(PAGE, Role.COUNTER).form(MAKE).filled("Make the invoice")
    printer = morning.house.app.state.printer
    morning.house.app.state.printer = Busy()
    assert morning.send(MAKE, filled, Role.COUNTER)[0] == 303
    with morning.book() as book:
        assert invoice(book, "2026-0001").sha256 is None
    morning.house.app.state.printer = printer
    first = morning.fetch("/invoices/2026-0001.pdf", Role.COUNTER)[2]
    assert morning.fetch("/invoices/2026-0001.pdf", Role.COUNTER)[2] == first
    with morning.book() as book:
        assert invoice(book, "2026-0001").sha256 is not None


def test_an_invoice_that_is_not_there_is_not_found(morning: Morning) -> None:
    assert morning.fetch("/invoices/2026-0001.pdf")[0] == 404
    assert morning.send("/orders/2026-99/invoices", {"what": "invoice"})[0] == 404
    assert morning.send("/orders/2026-99/credit-notes", {"credit_of": "1", "credit_why": "x"})[0] == 404


def test_of_an_order_called_off_it_is_said_what_an_invoice_waits_for(morning: Morning) -> None:
    with morning.book() as book:
        called_off(book, order(book, NUMBER))
    morning.turn_to(NOW + timedelta(hours=3))
    page = morning.see(PAGE, Role.COUNTER)
    assert "Missing what is owed" in page.words
    assert "is law: ask a professional." in page.words
    assert MAKE not in actions(page)


def test_the_studio_says_what_stands_on_its_invoices(morning: Morning) -> None:
    form = morning.see("/studio").form("/studio/facts")
    typed = {
        "tax_number": "GB 999 9999 73",
        "invoice_prefix": "WR-",
        "invoice_note": "Pay within 14 days.",
        "invoices_on_account": "yes",
    }
    assert morning.send(form.action, form.filled("Save for the papers", **typed))[0] == 303
    with morning.book() as book:
        stands = studio(book)
    assert (stands.tax_number, stands.invoice_prefix) == ("GB 999 9999 73", "WR-")
    assert (stands.invoice_note, stands.invoices_on_account) == ("Pay within 14 days.", True)
    press(morning)
    words = text_of(morning.fetch("/invoices/WR-2026-0001.pdf")[2])
    for said in ("Invoice WR-2026-0001", "VAT number GB 999 9999 73", "Pay within 14 days."):
        assert said in words


@pytest.mark.parametrize("prefix", ["WR/", "a b", "Ü-", "123456789"])
def test_a_prefix_that_no_address_could_hold_is_told_beside_its_field(morning: Morning, prefix: str) -> None:
    form = morning.see("/studio").form("/studio/facts")
    status, _, page = morning.send(form.action, form.filled("Save for the papers", invoice_prefix=prefix))
    assert status == 422
    assert page.described["f-invoice-prefix-wrong"]
    assert page.form(form.action).fields["invoice_prefix"] == prefix
