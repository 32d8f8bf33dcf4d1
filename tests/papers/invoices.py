"""Invoices and credit notes for the tests: one of each kind that is looked at."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

from studio.craft.invoicing import InvoiceKind, InvoiceLine, Taxed
from studio.papers.invoice import Before, InvoiceFacts, invoice_paper, invoice_to_print
from studio.papers.printing import printed
from tests.papers.quotes import LONG_NAMES, WRENFOLD

TWENTY, NONE = Decimal(20), Decimal(0)
ADDRESS = "12 Saltmarsh Row\nHarwell Staithe\nNR25 0XX"
TERMS = "Pay within 14 days to sort code 00-00-00, account 12345678, with the number of this invoice."
FIRST = Before("2026-0001", date(2026, 11, 27), TWENTY, Taxed(9_652, 1_930))


def an_invoice(**changes: Any) -> InvoiceFacts:
    """Invoice 2026-0002 of 241.30 and 48.26 tax, 115.82 of it invoiced on account and paid."""
    facts = InvoiceFacts(
        studio=WRENFOLD,
        kind=InvoiceKind.INVOICE,
        number="2026-0002",
        order_number="2026-118",
        customer="Ines Radley",
        customer_address=ADDRESS,
        issued_on=date(2026, 12, 14),
        supplied_on=date(2026, 12, 12),
        currency="GBP",
        lines=(
            InvoiceLine("The ring, a hammered band of 750 yellow gold", TWENTY, Taxed(22_930, 4_586)),
            InvoiceLine("Hallmarking", TWENTY, Taxed(1_200, 240)),
        ),
        tax_name="VAT",
        tax_number="GB 999 9999 73",
        on_account=(FIRST,),
        note=TERMS,
    )
    return replace(facts, **changes)


INVOICES: dict[str, InvoiceFacts] = {
    "on-account-off": an_invoice(),
    "paid-part": an_invoice(on_account=(), paid_minor=11_582, supplied_on=date(2026, 12, 14)),
    "on-account": an_invoice(
        kind=InvoiceKind.ON_ACCOUNT,
        number="2026-0001",
        issued_on=date(2026, 11, 28),
        supplied_on=None,
        paid_on=date(2026, 11, 27),
        lines=(InvoiceLine("Payment on account of order 2026-118", TWENTY, FIRST.taxed),),
        on_account=(),
        paid_minor=11_582,
    ),
    "credit-note": an_invoice(
        kind=InvoiceKind.CREDIT_NOTE,
        number="2026-0003",
        issued_on=date(2026, 12, 20),
        supplied_on=None,
        lines=(InvoiceLine("Part of invoice 2026-0002", TWENTY, Taxed(4_167, 833)),),
        on_account=(),
        credits=Before("2026-0002", date(2026, 12, 14)),
        reason="The setting was not needed after all",
    ),
    "two-rates": an_invoice(
        lines=(
            InvoiceLine("The ring", TWENTY, Taxed(200_000, 40_000)),
            InvoiceLine("A book on rings", Decimal("5.5"), Taxed(2_000, 110)),
        )
    ),
    "without-tax": an_invoice(
        currency="JPY",
        lines=(InvoiceLine("The ring", NONE, Taxed(168_000)),),
        on_account=(Before("2026-0001", date(2026, 11, 27), NONE, Taxed(50_000)),),
        paid_minor=120_000,
    ),
    "long": an_invoice(
        customer=LONG_NAMES,
        customer_address="\n".join(
            ["Wolfeschlegelsteinhausenbergerdorffstrasse 1184, rear building, third floor"] * 5
        ),
        tax_name="Impuesto sobre el Valor Añadido",
        tax_number="ESX" + "1234567890" * 4,
        currency="KWD",
        lines=tuple(
            InvoiceLine(
                f"{place}. Ringwolfeschlegelsteinhausenbergerdorff" * 3,
                TWENTY,
                Taxed(99_999_999, 20_000_000),
            )
            for place in range(1, 30)
        ),
        on_account=(Before("WREN-26-2026-10001", date(2026, 9, 27), TWENTY, Taxed(96_520_000, 19_300_000)),),
        paid_minor=1_000_000_000,
        note="\n".join([TERMS * 5] * 4),
    ),
}
"""One paper of each kind that is looked at."""


@cache
def invoice(kind: str) -> bytes:
    """The PDF of one of the papers that are looked at."""
    return printed(invoice_to_print(invoice_paper(INVOICES[kind])))
