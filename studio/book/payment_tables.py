"""The table of what was paid and given back: rows are added, none is ever changed."""

from datetime import date, datetime

from sqlalchemy import BigInteger, CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.payments import Method


class PaymentRow(Row, table=True):
    """Money that came in for an order; below 0 it was given back.

    One that takes back what was entered by mistake has the same amount the other way round, `undoes_id`, and
    `why`. No card's number is kept.
    """

    __tablename__ = "payments"
    __table_args__ = (
        CheckConstraint("amount_minor <> 0", name="amount_minor"),
        CheckConstraint(one_of("method", Method), name="method"),
        CheckConstraint("(undoes_id IS NULL) = (why = '')", name="why"),
        Index(None, "on_day", "id"),
    )

    id: int = Field(default=None, primary_key=True)
    number: str = Field(sa_type=Text, unique=True)
    order_id: int = Field(foreign_key="orders.id", index=True)
    amount_minor: int = Field(sa_type=BigInteger)
    currency: str = Field(sa_type=Text)
    method: str = Field(default=Method.NOT_SAID, sa_type=Text)
    reference: str = Field(default="", sa_type=Text)
    on_day: date
    noted_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    undoes_id: int | None = Field(default=None, foreign_key="payments.id", unique=True)
    why: str = Field(default="", sa_type=Text)
