"""The tables of invoices, invoices on account and credit notes, and the counter of their numbers."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Index, LargeBinary, Text, UniqueConstraint
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.invoicing import InvoiceKind


class InvoiceCounterRow(Row, table=True):
    """The last number of a year. Its row is locked by who takes the next one, until that is saved."""

    __tablename__ = "invoice_counters"
    __table_args__ = (CheckConstraint("last > 0", name="last"),)

    year: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    last: int


class InvoiceRow(Row, table=True):
    """An invoice or a credit note as issued: nothing of it ever changes, and none is deleted.

    Amounts are signed, those of a credit note below 0; `sums` has them by rate. `payment` is the number of
    the payment an invoice on account is for, `credits_id` the invoice that a credit note takes back. `frozen`
    holds all that stands on the paper.
    """

    __tablename__ = "invoices"
    __table_args__ = (
        UniqueConstraint("year", "serial"),
        CheckConstraint(one_of("kind", InvoiceKind), name="kind"),
        CheckConstraint("serial > 0", name="serial"),
        CheckConstraint("(kind = 'credit note') = (credits_id IS NOT NULL)", name="credits"),
        CheckConstraint("(kind = 'on account') = (payment IS NOT NULL)", name="payment"),
        Index(None, "issued_on", "id"),
    )

    id: int = Field(default=None, primary_key=True)
    number: str = Field(sa_type=Text, unique=True)
    year: int
    serial: int
    order_id: int = Field(foreign_key="orders.id", index=True)
    kind: str = Field(sa_type=Text)
    issued_at: datetime = Field(sa_type=Moment)
    issued_on: date
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    customer: str = Field(sa_type=Text)
    currency: str = Field(sa_type=Text)
    net_minor: int = Field(sa_type=BigInteger)
    tax_minor: int = Field(sa_type=BigInteger)
    sums: Any = Field(sa_type=JsonText, nullable=False)
    payment: str | None = Field(default=None, sa_type=Text, unique=True)
    credits_id: int | None = Field(default=None, foreign_key="invoices.id", index=True)
    reason: str = Field(default="", sa_type=Text)
    frozen: Any = Field(sa_type=JsonText, nullable=False)


class InvoicePaperRow(Row, table=True):
    """The paper of an invoice, as the customer has it: written once, never again."""

    __tablename__ = "invoice_papers"

    invoice_id: int = Field(
        primary_key=True, foreign_key="invoices.id", sa_column_kwargs={"autoincrement": False}
    )
    pdf: bytes = Field(sa_type=LargeBinary)
    sha256: str = Field(sa_type=Text)
    rendered_at: datetime = Field(sa_type=Moment)
