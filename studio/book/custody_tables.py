"""The table of custody: every line of a customer's goods that came or went. No row is ever changed."""

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.custody import CustodyMove


class CustodyRow(Row, table=True):
    """One line that came or went, by the document that says so; `hash` chains it to the row before it.

    `good` is the line's own number, '2026-118-r1/2'. The weight is in mg: as it came, and as it went. The
    value is in minor units of `currency`, None where nobody said one.
    """

    __tablename__ = "custody"
    __table_args__ = (
        CheckConstraint("id > 0", name="numbers"),
        CheckConstraint(
            "(weight_mg IS NULL OR weight_mg >= 0) AND (value_minor IS NULL OR value_minor >= 0)",
            name="figures",
        ),
        CheckConstraint(one_of("what", CustodyMove), name="what"),
        Index(None, "on_day", "id"),
    )

    id: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    at: datetime = Field(sa_type=Moment)
    on_day: date
    what: str = Field(sa_type=Text)
    order_id: int = Field(foreign_key="orders.id", index=True)
    document: str = Field(sa_type=Text)
    good: str = Field(sa_type=Text, index=True)
    line: str = Field(sa_type=Text)
    weight_mg: int | None = None
    value_minor: int | None = None
    currency: str = Field(sa_type=Text)
    condition: str = Field(default="", sa_type=Text)
    bag: str = Field(default="", sa_type=Text)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    hash: str = Field(sa_type=Text)
