"""What an invoice or a credit note is when read: frozen values, never rows."""

from dataclasses import dataclass
from datetime import date, datetime

from studio.craft.invoicing import NOTHING, AtRate, InvoiceKind, Taxed, summed


@dataclass(frozen=True, slots=True)
class Invoice:
    """One paper of the series as issued: by whom, when (UTC), and on which day of the studio's.

    Amounts are signed, those of a credit note below 0. `payment` is the number of the payment that an
    invoice on account is for, `credits` that of the invoice a credit note takes back, for `reason`.
    `taken_back` is what credit notes took back of it so far, `notes` how many there are. `sha256` is that of
    its paper, None where it is not made yet.
    """

    number: str
    order_number: str
    kind: InvoiceKind
    issued_on: date
    issued_at: datetime
    issued_by: str
    customer: str
    currency: str
    sums: tuple[AtRate, ...]
    payment: str | None = None
    credits: str | None = None
    reason: str = ""
    sha256: str | None = None
    taken_back: Taxed = NOTHING
    notes: int = 0

    @property
    def taxed(self) -> Taxed:
        """What it invoices, without its tax and the tax."""
        return summed(one.taxed for one in self.sums)

    @property
    def left(self) -> Taxed:
        """What of it was not taken back."""
        return self.taxed - self.taken_back

    @property
    def is_credited(self) -> bool:
        """Whether all of it was taken back."""
        return self.notes > 0 and self.left.gross_minor == 0

    @property
    def is_to_credit(self) -> bool:
        """Whether something of it may still be taken back."""
        return self.kind is not InvoiceKind.CREDIT_NOTE and not self.is_credited
