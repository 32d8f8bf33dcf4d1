"""What a payment is when read or asked for: frozen values, never rows."""

from dataclasses import dataclass
from datetime import date, datetime

from studio.craft.payments import Method


@dataclass(frozen=True, slots=True)
class Payment:
    """Money that came in for an order, or below 0 was given back; in minor units of `currency`.

    `undoes` is the number of one that was entered by mistake, `undone_by` that of the one that says so. The
    two add up to nothing.
    """

    number: str
    amount_minor: int
    currency: str
    method: Method
    reference: str
    on: date
    noted_at: datetime
    actor: str
    undoes: str | None = None
    undone_by: str | None = None
    why: str = ""

    @property
    def counts(self) -> bool:
        """Whether it is one that happened, and was not entered by mistake."""
        return self.undoes is None and self.undone_by is None


@dataclass(frozen=True, slots=True)
class Sum:
    """An amount above 0 that is taken or given back: how, with which reference, on which day.

    `on` None is today.
    """

    amount_minor: int
    method: Method = Method.NOT_SAID
    reference: str = ""
    on: date | None = None
