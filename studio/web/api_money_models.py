"""What the API takes and gives of money. Amounts are whole minor units of the currency."""

from datetime import date

from pydantic import BaseModel

from studio.craft.payments import Method
from studio.web.api_models import Moment


class PaymentOut(BaseModel):
    """Money that came in, or below 0 went back. `undoes` and `undone_by` name an entry made by mistake."""

    number: str
    amount_minor: int
    method: Method
    reference: str
    on: date
    noted_at: Moment
    undoes: str | None
    undone_by: str | None
    why: str
    receipt: str | None


class MoneyOut(BaseModel):
    """How an order's money stands, in minor units; `due_minor` is null while nobody said what is owed."""

    order: str
    version: int
    currency: str
    due_minor: int | None
    paid_minor: int
    left_minor: int
    back_minor: int
    payments: list[PaymentOut]
