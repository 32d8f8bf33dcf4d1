"""Numbers of invoices: one series a calendar year for all their kinds, without gaps and never given twice."""

from dataclasses import dataclass

from sqlalchemy import text
from sqlmodel import Session

_COUNT = text(
    "INSERT INTO invoice_counters (year, last) VALUES (:year, 1) "
    "ON CONFLICT (year) DO UPDATE SET last = invoice_counters.last + 1 RETURNING last"
)


@dataclass(frozen=True, slots=True)
class InvoiceNumber:
    """A number as written, '2026-0001', behind the studio's prefix where it has one: 'WR-2026-0001'."""

    prefix: str
    year: int
    serial: int

    def __str__(self) -> str:
        return f"{self.prefix}{self.year}-{self.serial:04d}"


def next_invoice_number(session: Session, prefix: str, year: int) -> InvoiceNumber:
    """The next number of `year`, counted in the open transaction.

    Its row is locked until that ends, so the next one waits for it; one that is not saved uses up no number.
    """
    serial = session.connection().execute(_COUNT, {"year": year}).scalar_one()
    return InvoiceNumber(prefix, year, serial)
