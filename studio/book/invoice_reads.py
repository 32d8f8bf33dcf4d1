"""Reading invoices and credit notes, and their papers."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from sqlalchemy import Row, bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col, select

from studio.book.invoice_errors import InvoicePdfNotYet, InvoiceUnknown
from studio.book.invoice_tables import InvoicePaperRow, InvoiceRow
from studio.book.invoice_values import Invoice
from studio.book.order_tables import OrderRow
from studio.craft.invoicing import NOTHING, AtRate, InvoiceKind, Taxed, summed

# By columns: the papers' bytes and the frozen facts stay where they are. Built once, since orders are read
# all the time.
_LISTED = (
    pick(
        col(InvoiceRow.id),
        col(InvoiceRow.number),
        col(OrderRow.number).label("order_number"),
        col(InvoiceRow.kind),
        col(InvoiceRow.issued_on),
        col(InvoiceRow.issued_at),
        col(InvoiceRow.actor),
        col(InvoiceRow.customer),
        col(InvoiceRow.currency),
        col(InvoiceRow.sums),
        col(InvoiceRow.payment),
        col(InvoiceRow.credits_id),
        col(InvoiceRow.reason),
        col(InvoicePaperRow.sha256),
    )
    .join(OrderRow, col(OrderRow.id) == col(InvoiceRow.order_id))
    .join(InvoicePaperRow, col(InvoicePaperRow.invoice_id) == col(InvoiceRow.id), isouter=True)
    .order_by(col(InvoiceRow.id))
)
_OF_ORDER = _LISTED.where(col(InvoiceRow.order_id) == bindparam("order_id"))
_BETWEEN = _LISTED.where(
    col(InvoiceRow.issued_on) >= bindparam("first"), col(InvoiceRow.issued_on) <= bindparam("last")
)


def invoices_of(session: Session, order_id: int) -> tuple[Invoice, ...]:
    """The invoices and credit notes of an order, the oldest first."""
    rows = session.connection().execute(_OF_ORDER, {"order_id": order_id}).all()
    numbers = {row.id: row.number for row in rows}
    return tuple(_invoice(row, numbers, [one for one in rows if one.credits_id == row.id]) for row in rows)


def invoices_between(session: Session, first: date, last: date) -> tuple[Invoice, ...]:
    """All invoices and credit notes issued on these days, the oldest first, without what was taken back."""
    rows = session.connection().execute(_BETWEEN, {"first": first, "last": last}).all()
    credited = {row.credits_id for row in rows if row.credits_id is not None}
    numbers: dict[int, str] = {
        row.id: row.number
        for row in session.connection().execute(
            pick(col(InvoiceRow.id), col(InvoiceRow.number)).where(col(InvoiceRow.id).in_(credited))
        )
    }
    return tuple(_invoice(row, numbers, ()) for row in rows)


def invoice(session: Session, number: str) -> Invoice:
    """The invoice or credit note of this number. Raises `InvoiceUnknown`."""
    order_id = session.exec(select(InvoiceRow.order_id).where(col(InvoiceRow.number) == number)).one_or_none()
    if order_id is None:
        raise InvoiceUnknown(number)
    return next(one for one in invoices_of(session, order_id) if one.number == number)


def invoice_pdf(session: Session, number: str) -> bytes:
    """The paper of an invoice, byte for byte as it was made. Raises `InvoiceUnknown`, `InvoicePdfNotYet`."""
    found = session.exec(
        select(InvoiceRow.id, InvoicePaperRow.pdf)
        .join(InvoicePaperRow, col(InvoicePaperRow.invoice_id) == col(InvoiceRow.id), isouter=True)
        .where(col(InvoiceRow.number) == number)
    ).one_or_none()
    if found is None:
        raise InvoiceUnknown(number)
    if found[1] is None:
        raise InvoicePdfNotYet(number)
    return found[1]


def sums_kept(sums: Iterable[AtRate]) -> list[dict[str, Any]]:
    """Sums by rate as plain JSON values."""
    return [
        {
            "percent": str(one.percent),
            "net_minor": one.taxed.net_minor,
            "tax_minor": one.taxed.tax_minor,
        }
        for one in sums
    ]


def sums_read(kept: Iterable[Mapping[str, Any]]) -> tuple[AtRate, ...]:
    """Sums by rate out of what `sums_kept` made of them."""
    return tuple(AtRate(Decimal(one["percent"]), Taxed(one["net_minor"], one["tax_minor"])) for one in kept)


def _invoice(row: Row[Any], numbers: Mapping[int, str], notes: Sequence[Row[Any]]) -> Invoice:
    credited = [one for note in notes for one in sums_read(note.sums)]
    return Invoice(
        number=row.number,
        order_number=row.order_number,
        kind=InvoiceKind(row.kind),
        issued_on=row.issued_on,
        issued_at=row.issued_at,
        issued_by=row.actor,
        customer=row.customer,
        currency=row.currency,
        sums=sums_read(row.sums),
        payment=row.payment,
        credits=numbers.get(row.credits_id),
        reason=row.reason,
        sha256=row.sha256,
        taken_back=NOTHING - summed(one.taxed for one in credited),
        notes=len(notes),
    )
