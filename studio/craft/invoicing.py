"""What an order is invoiced: tax within an amount, invoices on account, the invoice, credit notes.

In whole minor units. Tax is rounded half up; what is divided is divided so that its parts sum to the whole.
Which tax is owed when, and on which paper, is law: a professional's to say.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from itertools import accumulate, pairwise
from math import floor

_HUNDRED = Decimal(100)


class InvoiceKind(StrEnum):
    """The papers of the one series of invoice numbers."""

    INVOICE = "invoice"
    ON_ACCOUNT = "on account"  # for a payment before the hand-over
    CREDIT_NOTE = "credit note"  # takes an invoice back, whole or in part


@dataclass(frozen=True, slots=True)
class Taxed:
    """An amount without its tax, and the tax, in minor units."""

    net_minor: int = 0
    tax_minor: int = 0

    @property
    def gross_minor(self) -> int:
        """The amount with its tax."""
        return self.net_minor + self.tax_minor

    def __add__(self, other: "Taxed") -> "Taxed":
        """Both together."""
        return Taxed(self.net_minor + other.net_minor, self.tax_minor + other.tax_minor)

    def __sub__(self, other: "Taxed") -> "Taxed":
        """What is left of it without the other."""
        return Taxed(self.net_minor - other.net_minor, self.tax_minor - other.tax_minor)

    def __neg__(self) -> "Taxed":
        """The same taken back."""
        return Taxed(-self.net_minor, -self.tax_minor)


NOTHING = Taxed()


@dataclass(frozen=True, slots=True)
class AtRate:
    """What is charged at one rate of tax, in percent."""

    percent: Decimal
    taxed: Taxed


@dataclass(frozen=True, slots=True)
class InvoiceLine:
    """One line of an invoice: what it is, without its tax and the tax on it; `quantity` of it."""

    text: str
    percent: Decimal
    taxed: Taxed
    quantity: int = 1


@dataclass(frozen=True, slots=True)
class OnAccount:
    """A payment that has its own invoice, `number`: what of that was not credited since, at its rate."""

    number: str
    percent: Decimal
    taxed: Taxed


class InvoiceExceeded(ValueError):
    """More was asked to be invoiced or credited than is left. Amounts with tax, in minor units."""

    def __init__(self, asked_minor: int, left_minor: int) -> None:
        super().__init__(f"{asked_minor} of {left_minor}")
        self.asked_minor = asked_minor
        self.left_minor = left_minor


@dataclass(frozen=True, slots=True)
class OrderInvoice:
    """The invoice of an order: its lines, less what was invoiced on account, less what else was paid.

    `paid_minor` is all that was paid for the order, on account or not. Never is more invoiced on account than
    the lines come to, nor than was paid (`order_invoice` sees to it).
    """

    lines: tuple[InvoiceLine, ...]
    on_account: tuple[OnAccount, ...]
    paid_minor: int

    @property
    def whole(self) -> Taxed:
        """What the lines come to."""
        return summed(line.taxed for line in self.lines)

    @property
    def on_account_sum(self) -> Taxed:
        """What was invoiced on account before."""
        return summed(one.taxed for one in self.on_account)

    @property
    def sums(self) -> tuple[AtRate, ...]:
        """What this paper invoices at each rate: the lines less what was invoiced on account."""
        return by_rate(
            [
                *(AtRate(line.percent, line.taxed) for line in self.lines),
                *(AtRate(one.percent, -one.taxed) for one in self.on_account),
            ]
        )

    @property
    def invoiced(self) -> Taxed:
        """What this paper invoices."""
        return self.whole - self.on_account_sum

    @property
    def otherwise_paid_minor(self) -> int:
        """What was paid without an invoice of its own."""
        return self.paid_minor - self.on_account_sum.gross_minor

    @property
    def left_minor(self) -> int:
        """What is left to pay; below 0 what goes back to the customer."""
        return self.invoiced.gross_minor - self.otherwise_paid_minor


def summed(parts: Iterable[Taxed]) -> Taxed:
    """All of them together: an order was invoiced the sum of its papers, credit notes below 0."""
    return sum(parts, start=NOTHING)


def by_rate(parts: Iterable[AtRate]) -> tuple[AtRate, ...]:
    """What is charged at each rate, the highest rate first. 200.00 and 12.00 at 20 %: 212.00 at 20 %."""
    rates: dict[Decimal, Taxed] = {}
    for one in parts:
        rates[one.percent] = rates.get(one.percent, NOTHING) + one.taxed
    return tuple(AtRate(percent, rates[percent]) for percent in sorted(rates, reverse=True))


def tax_within(gross_minor: int, percent: Decimal) -> Taxed:
    """An amount with tax parted into its net and its tax: tax = gross x rate / (100 + rate), half up.

    115.82 at 20 %: 19.30 tax (19.3033), 96.52 net. Of an amount below 0 it is the same below 0.
    """
    tax = _half_up(Fraction(abs(gross_minor)) * Fraction(percent) / Fraction(_HUNDRED + percent))
    return Taxed(abs(gross_minor) - tax, tax) if gross_minor >= 0 else -Taxed(-gross_minor - tax, tax)


def on_account(gross_minor: int, percent: Decimal, *, whole: Taxed, before: Sequence[OnAccount]) -> Taxed:
    """What the invoice for a payment on account says, of an order that comes to `whole` at this rate.

    Its tax is that within it; the payment that fills the order up takes what is left of net and tax, so that
    neither is ever more than the order's. 289.56 of which 48.26 tax, paid 115.82 and 173.74: 19.30 and 28.96
    tax. Raises `InvoiceExceeded` where more would be invoiced than the order comes to, and ValueError for 0.
    """
    if gross_minor <= 0:
        raise ValueError("a payment on account is more than nothing")
    invoiced = summed(one.taxed for one in before)
    left_minor = whole.gross_minor - invoiced.gross_minor
    if gross_minor > left_minor:
        raise InvoiceExceeded(gross_minor, left_minor)
    rest = whole - summed(one.taxed for one in before if one.percent == percent)
    tax = min(max(tax_within(gross_minor, percent).tax_minor, gross_minor - rest.net_minor), rest.tax_minor)
    return Taxed(gross_minor - tax, tax)


def order_invoice(
    lines: Sequence[InvoiceLine], *, before: Sequence[OnAccount], paid_minor: int
) -> OrderInvoice:
    """The invoice of an order whose lines these are, with what was invoiced on account and paid before.

    229.30 and 12.00 net with 45.86 and 2.40 tax, 115.82 of it invoiced on account and paid: 173.74 is
    invoiced, 28.96 of it tax, and left to pay. Raises ValueError without a line, and `InvoiceExceeded` where
    more was invoiced on account than the lines come to or than was paid: a credit note comes first.
    """
    if not lines:
        raise ValueError("an invoice needs a line")
    found = OrderInvoice(tuple(lines), tuple(one for one in before if one.taxed != NOTHING), paid_minor)
    most = min(found.whole.gross_minor, paid_minor)
    if found.on_account_sum.gross_minor > max(0, most):
        raise InvoiceExceeded(found.on_account_sum.gross_minor, max(0, most))
    return found


def credited(
    sums: Sequence[AtRate], gross_minor: int, *, before_minor: int = 0, is_whole: bool = False
) -> tuple[AtRate, ...]:
    """What a credit note over `gross_minor` takes back at each rate of an invoice whose `sums` these are.

    `before_minor` is what earlier credit notes took back. Each takes its share of net and tax, and the last
    one the rest, so that all of them sum to the invoice. Of 100.00 with 16.67 tax (20 %) three parts of
    33.34, 33.33 and 33.33 take back 5.56, 5.55 and 5.56 tax. `is_whole` takes back all that is left, which
    may be nothing with its tax. Raises `InvoiceExceeded` for more than is left, ValueError for 0 and less.
    """
    whole_minor = sum(one.taxed.gross_minor for one in sums)
    left_minor = whole_minor - before_minor
    if is_whole:
        gross_minor = left_minor
    elif gross_minor <= 0:
        raise ValueError("a credit note takes something back")
    if gross_minor > left_minor:
        raise InvoiceExceeded(gross_minor, left_minor)
    if whole_minor == 0:
        return tuple(sums)
    before = _shares(sums, Fraction(before_minor, whole_minor))
    after = _shares(sums, Fraction(before_minor + gross_minor, whole_minor))
    return tuple(AtRate(one.percent, then - now) for one, then, now in zip(sums, after, before, strict=True))


def _shares(sums: Sequence[AtRate], part: Fraction) -> list[Taxed]:
    """This part of each sum, in whole minor units that come to the part of all of them."""
    gross = [_half_up(part * upto) for upto in accumulate((one.taxed.gross_minor for one in sums), initial=0)]
    shares = []
    for one, (begin, end) in zip(sums, pairwise(gross), strict=True):
        whole_minor = one.taxed.gross_minor
        of_it = Fraction(end - begin, whole_minor) if whole_minor else part
        tax = _half_up(one.taxed.tax_minor * of_it)
        shares.append(Taxed(end - begin - tax, tax))
    return shares


def _half_up(number: Fraction) -> int:
    """The nearest whole number; a half goes up."""
    return floor(number + Fraction(1, 2))
