"""The tables of customers and of the fingers measured."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import Moment, Row, one_of
from studio.craft.designs import FingerName, Hand, Measured, System


class CustomerRow(Row, table=True):
    """A customer. `name_folded` is what the list goes by; in `phone_reversed` the last digits come first."""

    __tablename__ = "customers"
    __table_args__ = (
        CheckConstraint("length(name) > 0", name="name"),
        Index(None, "name_folded", "id"),
        Index(None, "phone_reversed"),
    )

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    name_folded: str = Field(sa_type=Text)
    phone: str | None = Field(default=None, sa_type=Text)
    phone_reversed: str = Field(default="", sa_type=Text)
    email: str | None = Field(default=None, sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    address: str = Field(default="", sa_type=Text)
    version: int = 1
    created_at: datetime = Field(sa_type=Moment)


_BY_SIGN = Text().with_variant(Text(collation="C"), "postgresql")
"""Compared sign by sign, as SQLite does it: only so is the beginning of a word a stretch of the index."""


class CustomerWordRow(Row, table=True):
    """One word by which a customer's name is found."""

    __tablename__ = "customer_words"
    __table_args__ = (Index(None, "customer_id", "word"),)

    word: str = Field(sa_type=_BY_SIGN, primary_key=True)
    customer_id: int = Field(
        primary_key=True, foreign_key="customers.id", sa_column_kwargs={"autoincrement": False}
    )


class FingerRow(Row, table=True):
    """One measurement of one finger on one day. A new measurement is a new row.

    `gauge` is the JSON of the studio's gauge that took it, as it was calibrated then.
    """

    __tablename__ = "fingers"
    __table_args__ = (
        CheckConstraint(one_of("system", System), name="system"),
        CheckConstraint(f"measured IS NULL OR {one_of('measured', Measured)}", name="measured"),
        CheckConstraint(f"hand IS NULL OR {one_of('hand', Hand)}", name="hand"),
        CheckConstraint(f"finger IS NULL OR {one_of('finger', FingerName)}", name="finger"),
        CheckConstraint("circumference_um > 0", name="circumference"),
        Index(None, "customer_id", "taken_at"),
    )

    id: int = Field(default=None, primary_key=True)
    customer_id: int = Field(foreign_key="customers.id")
    hand: str | None = Field(default=None, sa_type=Text)
    finger: str | None = Field(default=None, sa_type=Text)
    system: str = Field(sa_type=Text)
    label: str = Field(sa_type=Text)
    circumference_um: int
    knuckle_label: str | None = Field(default=None, sa_type=Text)
    knuckle_circumference_um: int | None = None
    to_label: str | None = Field(default=None, sa_type=Text)
    to_circumference_um: int | None = None
    measured: str | None = Field(default=None, sa_type=Text)
    gauge_width_um: int | None = None
    gauge: str | None = Field(default=None, sa_type=Text)
    is_warm: bool | None = None
    is_on_two_days: bool | None = None
    taken_at: datetime = Field(sa_type=Moment)
    taken_by: str | None = Field(default=None, sa_type=Text)
