"""The table of orders called off after the yes."""

from datetime import datetime
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Index, Text, text
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.calling_off import Stage

_HOLDS = text("ended_at IS NULL")


class CallingOffRow(Row, table=True):
    """One order called off after the yes: its stage, what was paid, what is owed, its metal.

    `owed_minor` is None while nobody said; `percent_bp` is what the studio's table said, None where it was
    typed. `metal` has a line a ring. `ended_at` is set where the order was taken up again.
    """

    __tablename__ = "callings_off"
    __table_args__ = (
        CheckConstraint(one_of("stage", Stage), name="stage"),
        CheckConstraint(
            "total_minor >= 0 AND paid_minor >= 0 AND (owed_minor IS NULL OR owed_minor >= 0)", name="minor"
        ),
        Index(
            "ix_callings_off_holding", "order_id", unique=True, sqlite_where=_HOLDS, postgresql_where=_HOLDS
        ),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id", index=True)
    quote_id: int = Field(foreign_key="quotes.id", index=True)
    stage: str = Field(sa_type=Text)
    currency: str = Field(sa_type=Text)
    total_minor: int = Field(sa_type=BigInteger)
    paid_minor: int = Field(sa_type=BigInteger)
    percent_bp: int | None = None
    owed_minor: int | None = Field(default=None, sa_type=BigInteger)
    metal: Any = Field(default_factory=list, sa_type=JsonText, nullable=False)
    called_off_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    ended_at: datetime | None = Field(default=None, sa_type=Moment)
