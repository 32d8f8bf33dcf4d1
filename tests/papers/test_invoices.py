"""Invoices, invoices on account and credit notes, read back from their PDFs."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from studio.craft.directions import apart
from studio.craft.invoicing import InvoiceKind, InvoiceLine, Taxed
from studio.papers.invoice import InvoiceFacts, invoice_paper, invoice_to_print, percent_words
from studio.papers.printing import printed
from tests.papers.invoices import INVOICES, TERMS, TWENTY, an_invoice, invoice
from tests.papers.laid_out import glyphs, out_of_page, overlapping
from tests.papers.printed import catalogue, fonts, reader, structure, text_of
from tests.papers.test_documents import plain
from tests.papers.test_quote import said_of

TITLES = {InvoiceKind.INVOICE: "Invoice", InvoiceKind.ON_ACCOUNT: "Invoice on account"}
SHORT = sorted(set(INVOICES) - {"long"})


def test_an_invoice_says_all_that_the_law_asks_for() -> None:
    """Directive 2006/112/EC, article 226; VAT Regulations 1995 (UK), regulation 14."""
    words = text_of(invoice("on-account-off"))
    for said in (
        "Wrenfold, goldsmiths 7 Cooper's Stair",  # who supplies, and where
        "Invoice 2026-0002",  # the number of its series
        "for Ines Radley",
        "12 Saltmarsh Row Harwell Staithe NR25 0XX",
        "Date of issue 14 December 2026 Date of supply 12 December 2026 VAT number GB 999 9999 73",
        "What How many Rate Price of one, net Net",
        "The ring, a hammered band of 750 yellow gold 1 20 % £229.30 £229.30",
        "Hallmarking 1 20 % £12.00 £12.00",
        "VAT by rate Net VAT With VAT At 20 % £241.30 £48.26 £289.56",
        "This invoice at 20 % £144.78 £28.96 £173.74",
        "This invoice £173.74 Left to pay £173.74",
        TERMS,
    ):
        assert plain(said) in words, words
    # the address and the order's number stand beside one another
    assert "order 2026-118" in words
    # a line of the table that is broken is told row by row
    for said in ("Less invoice 2026-0001 of", "27 November 2026, at 20 %", "−£96.52 −£19.30 −£115.82"):
        assert plain(said) in words


def test_the_day_of_supply_is_said_only_where_it_is_another() -> None:
    assert "Date of supply" not in text_of(invoice("paid-part"))
    assert "Date of supply" not in text_of(invoice("on-account"))


def test_what_was_paid_without_an_invoice_of_its_own_is_taken_off() -> None:
    words = text_of(invoice("paid-part"))
    assert "Total £289.56 Paid £115.82 Left to pay £173.74" in words
    assert "Less" not in words


def test_an_invoice_on_account_says_when_the_payment_came() -> None:
    words = text_of(invoice("on-account"))
    assert "Invoice on account 2026-0001" in words
    assert "Payment received 27 November 2026" in words
    assert "Total £115.82 Paid £115.82 Left to pay £0.00" in words


def test_a_credit_note_names_its_invoice_and_why() -> None:
    words = text_of(invoice("credit-note"))
    assert "Credit note 2026-0003" in words
    assert (
        "Credits invoice 2026-0002 of 14 December 2026 Reason The setting was not needed after all" in words
    )
    assert "At 20 % £41.67 £8.33 £50.00" in words
    assert "Credited £50.00" in words
    for never in ("Left to pay", "Paid"):
        assert never not in words


def test_two_rates_are_told_apart_and_together() -> None:
    words = text_of(invoice("two-rates"))
    for said in (
        "At 20 % £2,000.00 £400.00 £2,400.00 At 5.5 % £20.00 £1.10 £21.10",
        "This invoice at 20 % £1,903.48 £380.70 £2,284.18 This invoice at 5.5 % £20.00 £1.10 £21.10",
        "Together £1,923.48 £381.80 £2,305.28",
    ):
        assert plain(said) in words, words


def test_without_tax_nothing_is_said_of_it() -> None:
    words = text_of(invoice("without-tax"))
    for never in ("VAT", "Net", "net", "Rate", "rate", "%", "GB 999"):
        assert never not in words
    assert "Less invoice 2026-0001 of 27 November 2026 −JP¥50,000" in words
    assert "This invoice JP¥118,000 Paid JP¥120,000 We give back JP¥2,000" in words


def test_a_tax_number_that_is_not_there_is_left_out() -> None:
    assert [label for label, _ in invoice_paper(an_invoice(tax_number="")).facts] == [
        "Date of issue",
        "Date of supply",
    ]


@pytest.mark.parametrize(
    ("percent", "words"),
    [("20", "20 %"), ("5.50", "5.5 %"), ("20.00", "20 %"), ("100", "100 %")],
)
def test_a_rate_is_written_without_noughts_behind_its_point(percent: str, words: str) -> None:
    assert percent_words(Decimal(percent)).replace("\N{NO-BREAK SPACE}", " ") == words


def test_several_of_one_thing_tell_the_price_of_one() -> None:
    line = invoice_paper(an_invoice(lines=(InvoiceLine("Rings", TWENTY, Taxed(600, 120), 3),))).lines[0]
    assert (line.quantity, line.unit_price, line.net) == ("3", "£2.00", "£6.00")
    with pytest.raises(ValueError, match="whole minor units"):
        invoice_paper(an_invoice(lines=(InvoiceLine("Rings", TWENTY, Taxed(601, 120), 3),)))


@pytest.mark.parametrize(
    "facts",
    [
        an_invoice(lines=()),
        an_invoice(kind=InvoiceKind.CREDIT_NOTE),
        replace(INVOICES["credit-note"], kind=InvoiceKind.INVOICE),
    ],
    ids=["no-line", "credits-nothing", "an-invoice-that-credits"],
)
def test_what_is_no_invoice_is_not_made(facts: InvoiceFacts) -> None:
    with pytest.raises(ValueError, match=r"needs a line|nothing else, names"):
        invoice_paper(facts)


@pytest.mark.parametrize("kind", sorted(INVOICES))
def test_an_invoice_is_tagged_with_its_title_and_its_language(kind: str) -> None:
    pdf, facts = invoice(kind), INVOICES[kind]
    root = catalogue(pdf)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert 'pdfuaid:part="1"' in said_of(pdf)
    information = reader(pdf).metadata
    assert information is not None
    title = f"{TITLES.get(facts.kind, 'Credit note')} {facts.number}"
    assert information.title == f"{title}, {facts.customer}"
    elements = [str(element["/S"]) for element in structure(pdf)]
    assert elements.count("/H1") == 1
    assert elements.count("/TH") > 0
    assert f"{title}, page 1 of {len(reader(pdf).pages)}" in text_of(pdf, page=1)


@pytest.mark.parametrize("kind", sorted(INVOICES))
def test_nothing_on_an_invoice_lies_on_anything_or_runs_off(kind: str) -> None:
    pdf = invoice(kind)
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    assert 0 not in set(glyphs(pdf))
    assert set(fonts(pdf)) == {"Source-Sans-Pro", "Source-Serif-Pro", "Source-Sans-Pro-Semi-Bold"}


@pytest.mark.parametrize("kind", SHORT)
def test_what_is_short_stands_on_one_page(kind: str) -> None:
    assert len(reader(invoice(kind)).pages) == 1


def test_words_from_the_right_are_kept_apart() -> None:
    name = "محمد عبد الله"
    facts = an_invoice(customer=name, customer_address=f"{name}\n12 Row")
    paper = invoice_paper(facts)
    assert (paper.customer, paper.address) == (apart(name), (apart(name), "12 Row"))
    assert 0 not in set(glyphs(printed(invoice_to_print(paper))))


def test_the_same_invoice_is_the_same_bytes() -> None:
    assert printed(invoice_to_print(invoice_paper(INVOICES["on-account"]))) == invoice("on-account")
    later = replace(INVOICES["on-account"], issued_on=date(2026, 11, 29))
    assert printed(invoice_to_print(invoice_paper(later))) != invoice("on-account")
