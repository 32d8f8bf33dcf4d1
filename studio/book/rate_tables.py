"""The tables of the studio's figures: rates and metal prices, each entry dated and never changed."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.rates import WeightUnit


class RatesRow(Row, table=True):
    """The studio's figures from a day on. Percent are in hundredths (`_bp`): 20 % is 2000."""

    __tablename__ = "rates"
    __table_args__ = (
        CheckConstraint("length(currency) = 3", name="currency"),
        CheckConstraint("margin_bp >= 0 AND margin_bp < 9500", name="margin_bp"),
        CheckConstraint("valid_days > 0", name="valid_days"),
        Index(None, "since", "id"),
    )

    id: int = Field(default=None, primary_key=True)
    since: date
    currency: str = Field(sa_type=Text)
    labour_hour_minor: int = Field(sa_type=BigInteger)
    overhead_bp: int
    consumables_minor: int = Field(sa_type=BigInteger)
    premium_bp: int
    waste_bp: int
    margin_bp: int
    extra_margins_bp: Any = Field(sa_type=JsonText, nullable=False)
    assay_minor: int = Field(sa_type=BigInteger)
    letter_minor: int = Field(default=0, sa_type=BigInteger)
    plating_minor: int = Field(default=0, sa_type=BigInteger)
    setting_minor: int = Field(default=0, sa_type=BigInteger)
    tax_bp: int
    step_minor: int = Field(sa_type=BigInteger)
    deposit_bp: int
    valid_days: int
    stale_after_days: int
    minutes: Any = Field(sa_type=JsonText, nullable=False)
    entered_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)


class MetalPriceRow(Row, table=True):
    """The price of one metal on one day. `price` is the number as it was typed, which no float could keep."""

    __tablename__ = "metal_prices"
    __table_args__ = (
        CheckConstraint(one_of("unit", WeightUnit), name="unit"),
        CheckConstraint("length(currency) = 3", name="currency"),
        Index(None, "metal", "on_day", "id"),
    )

    id: int = Field(default=None, primary_key=True)
    metal: str = Field(sa_type=Text)
    price: str = Field(sa_type=Text)
    currency: str = Field(sa_type=Text)
    unit: str = Field(sa_type=Text)
    on_day: date
    source: str = Field(sa_type=Text)
    entered_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
