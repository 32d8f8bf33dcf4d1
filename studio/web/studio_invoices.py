"""What the studio says of its invoices, as typed and as shown."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from studio.book.studio import Studio
from studio.papers.house_words import ON_ACCOUNT, Country
from studio.web.errors import FieldError, FieldErrors
from studio.web.forms import long_text
from studio.web.reading import Reading
from studio.web.texts import read_text

INVOICES_WORDS = {
    "tax_number": "Tax number",
    "invoice_prefix": "Before the number",
    "invoices_on_account": "Payments on account",
    "invoice_note": "On every invoice",
}
"""The fields and their words."""
LONGEST_PREFIX, LONGEST_TAX_NUMBER, LONGEST_INVOICE_NOTE = 8, 40, 2_000
_PREFIX = re.compile(r"[A-Za-z0-9-]{0,8}")


@dataclass(frozen=True, slots=True)
class InvoicesTyped:
    """The settings as they are kept."""

    tax_number: str
    invoice_prefix: str
    invoices_on_account: bool
    invoice_note: str


def invoices_texts(facts: Studio) -> dict[str, str]:
    """What stands, as the form's fields show it; payments on account are 'yes' or ''."""
    return {
        "tax_number": facts.tax_number,
        "invoice_prefix": facts.invoice_prefix,
        "invoices_on_account": "yes" if facts.invoices_on_account else "",
        "invoice_note": facts.invoice_note,
    }


def usual_invoices(country: Country) -> dict[str, str]:
    """What is usual in a country, as the form's fields show it."""
    return {"invoices_on_account": "yes" if country in ON_ACCOUNT else ""}


def read_invoices(raw: Mapping[str, object]) -> InvoicesTyped:
    """The settings as typed; raises `FieldErrors` for what cannot stand."""
    asked = Reading(raw, "")
    number = asked.read(
        "tax_number", lambda value, field: read_text(value, field, longest=LONGEST_TAX_NUMBER)
    )
    prefix = asked.read("invoice_prefix", read_prefix)
    on_account = asked.yes("invoices_on_account")
    note = asked.read("invoice_note", long_text(LONGEST_INVOICE_NOTE))
    asked.stop()
    return InvoicesTyped(number or "", prefix or "", bool(on_account), note or "")


def read_prefix(value: object, field: str) -> str:
    """What stands before the numbers of invoices: letters from a to z, digits and hyphens, '' for nothing."""
    prefix = read_text(value, field, longest=LONGEST_PREFIX)
    if not _PREFIX.fullmatch(prefix):
        raise FieldErrors([FieldError(field, "Take letters from A to Z, digits and hyphens, up to 8: WR-")])
    return prefix
