"""What was invoiced and paid in a month: the list for whoever keeps the studio's books."""

from calendar import monthrange
from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from sqlalchemy import bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.customer_tables import CustomerRow
from studio.book.invoice_reads import invoices_between
from studio.book.invoice_values import Invoice
from studio.book.order_tables import OrderRow
from studio.book.payment_tables import PaymentRow
from studio.craft.invoicing import AtRate, Taxed, by_rate
from studio.craft.payments import Method

_PAID = (
    pick(
        col(PaymentRow.number),
        col(PaymentRow.on_day),
        col(OrderRow.number),
        col(CustomerRow.name),
        col(PaymentRow.amount_minor),
        col(PaymentRow.currency),
        col(PaymentRow.method),
        col(PaymentRow.reference),
    )
    .join(OrderRow, col(OrderRow.id) == col(PaymentRow.order_id))
    .join(CustomerRow, col(CustomerRow.id) == col(OrderRow.customer_id))
    .where(col(PaymentRow.on_day) >= bindparam("first"), col(PaymentRow.on_day) <= bindparam("last"))
    .order_by(col(PaymentRow.on_day), col(PaymentRow.id))
)


@dataclass(frozen=True, slots=True, order=True)
class MonthOfYear:
    """A calendar month: '2026-11'."""

    year: int
    month: int

    def __str__(self) -> str:
        return f"{self.year}-{self.month:02d}"

    @property
    def first(self) -> date:
        """Its first day."""
        return date(self.year, self.month, 1)

    @property
    def last(self) -> date:
        """Its last day."""
        return date(self.year, self.month, monthrange(self.year, self.month)[1])

    def moved(self, months: int) -> "MonthOfYear":
        """The month so many months later: 2026-11 and 2 give 2027-01."""
        year, month = divmod(self.year * 12 + self.month - 1 + months, 12)
        return MonthOfYear(year, month + 1)


@dataclass(frozen=True, slots=True)
class PaidLine:
    """Money that came in on a day, or below 0 went out; a mistake and its taking back are two lines."""

    number: str
    on: date
    order_number: str
    customer: str
    amount_minor: int
    currency: str
    method: Method
    reference: str


@dataclass(frozen=True, slots=True)
class RateSum:
    """What was invoiced in one currency at one rate, credit notes taken off."""

    currency: str
    at: AtRate


@dataclass(frozen=True, slots=True)
class MethodSum:
    """What was paid in one currency by one method, less what was given back that way."""

    currency: str
    method: Method
    amount_minor: int


@dataclass(frozen=True, slots=True)
class Month:
    """The month's papers by number and its payments by day, with their sums."""

    of: MonthOfYear
    invoices: tuple[Invoice, ...]
    payments: tuple[PaidLine, ...]

    @property
    def rates(self) -> tuple[RateSum, ...]:
        """What was invoiced at each rate, by currency."""
        found: dict[str, list[AtRate]] = defaultdict(list)
        for one in self.invoices:
            found[one.currency] += one.sums
        return tuple(RateSum(currency, at) for currency in sorted(found) for at in by_rate(found[currency]))

    @property
    def methods(self) -> tuple[MethodSum, ...]:
        """What was paid by each method, by currency."""
        found: dict[tuple[str, Method], int] = defaultdict(int)
        for one in self.payments:
            found[one.currency, one.method] += one.amount_minor
        return tuple(
            MethodSum(currency, method, found[currency, method]) for currency, method in sorted(found)
        )

    def invoiced(self, currency: str) -> Taxed:
        """All that was invoiced in this currency, credit notes taken off."""
        return sum((one.at.taxed for one in self.rates if one.currency == currency), start=Taxed())

    @property
    def currencies(self) -> tuple[str, ...]:
        """The currencies of its invoices."""
        return tuple(sorted({one.currency for one in self.invoices}))


def month_of(session: Session, of: MonthOfYear) -> Month:
    """What was invoiced and paid in this month of the studio's calendar."""
    days = {"first": of.first, "last": of.last}
    payments = tuple(
        PaidLine(*row[:6], Method(row[6]), row[7]) for row in session.connection().execute(_PAID, days)
    )
    return Month(of, invoices_between(session, of.first, of.last), payments)
