"""What an agreed order still owes. All that reminds of money asks here, and nowhere else."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import bindparam
from sqlalchemy import select as pick
from sqlmodel import Session, col

from studio.book.order_tables import OrderRow
from studio.book.payment_reads import paid_minor
from studio.book.quote_tables import AgreementRow, QuoteRow


@dataclass(frozen=True, slots=True)
class Owed:
    """What an order owes, in minor units of `currency`.

    `deposit_minor` is what is open of the deposit, 0 where it is settled. `balance_minor` is the price less
    what was paid; below 0 where an amendment came to less than that.
    """

    currency: str
    deposit_minor: int
    balance_minor: int


_OWED = (
    pick(
        col(OrderRow.number),
        col(QuoteRow.currency),
        col(QuoteRow.total_minor),
        col(QuoteRow.variants),
        col(AgreementRow.variant),
        col(AgreementRow.deposit_asked_minor),
        paid_minor(),
        col(AgreementRow.without_deposit),
    )
    .select_from(OrderRow)
    .join(AgreementRow, col(AgreementRow.order_id) == col(OrderRow.id))
    .join(QuoteRow, col(QuoteRow.id) == col(AgreementRow.quote_id))
    .where(
        col(OrderRow.number).in_(bindparam("numbers", expanding=True)), col(AgreementRow.ended_at).is_(None)
    )
)


def owed(session: Session, numbers: Sequence[str]) -> dict[str, Owed]:
    """What each of these orders owes by its yes, in one question; orders without one are left out."""
    if not numbers:
        return {}
    found = session.connection().execute(_OWED, {"numbers": list(numbers)})
    told = {}
    for number, currency, total_minor, variants, variant, asked, paid, without in found:
        total = next((one["total_minor"] for one in variants if one["key"] == variant), total_minor)
        is_open = without is None
        told[number] = Owed(currency, max(0, asked - paid) if is_open else 0, total - paid)
    return told
