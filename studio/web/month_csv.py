"""The month's list as CSV: a line for each rate of an invoice, a line for each payment."""

import csv
import io
import re
from collections.abc import Iterator

from studio.book.months import Month
from studio.craft.money import from_minor
from studio.papers.invoice import KIND_WORDS

HEAD = (
    "kind", "number", "date", "order", "customer", "rate", "net", "tax", "total", "currency", "method",
    "reference", "for", "reason",
)  # fmt: skip
"""The columns. Amounts are numbers with a point, those of credit notes and of money given back below 0."""
_ACTS = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet take a cell for a formula."""
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
BOM = "\N{ZERO WIDTH NO-BREAK SPACE}"


def month_csv(month: Month) -> bytes:
    """The list in UTF-8, with the mark by which spreadsheets tell that it is."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    writer.writerow(HEAD)
    writer.writerows([cell(value) for value in row] for row in _rows(month))
    return f"{BOM}{text.getvalue()}".encode()


def _rows(month: Month) -> Iterator[tuple[str, ...]]:
    for one in month.invoices:
        for at in one.sums:
            amounts = (at.taxed.net_minor, at.taxed.tax_minor, at.taxed.gross_minor)
            yield (
                KIND_WORDS[one.kind].lower(),
                one.number,
                one.issued_on.isoformat(),
                one.order_number,
                one.customer,
                f"{at.percent:f}",
                *(f"{from_minor(minor, one.currency):f}" for minor in amounts),
                one.currency,
                "",
                "",
                one.credits or one.payment or "",
                one.reason,
            )
    for paid in month.payments:
        yield (
            "payment" if paid.amount_minor > 0 else "given back",
            paid.number,
            paid.on.isoformat(),
            paid.order_number,
            paid.customer,
            "",
            "",
            "",
            f"{from_minor(paid.amount_minor, paid.currency):f}",
            paid.currency,
            paid.method,
            paid.reference,
            "",
            "",
        )


def cell(text: str) -> str:
    """The text as it stands in its cell: what a spreadsheet would reckon with has an apostrophe before it."""
    return f"'{text}" if text.startswith(_ACTS) and not _NUMBER.fullmatch(text) else text
