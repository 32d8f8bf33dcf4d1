"""The tables of work done outside: the studio's own list of outside workers, and the slips."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import CheckConstraint, Index, Text, UniqueConstraint
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.outwork import Trade


class OutworkerRow(Row, table=True):
    """Somebody outside who works for the studio. The row stays when it is dropped."""

    __tablename__ = "outworkers"
    __table_args__ = (
        CheckConstraint("length(name) > 0 AND version > 0", name="named"),
        CheckConstraint(one_of("trade", Trade), name="trade"),
    )

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    trade: str = Field(sa_type=Text)
    note: str = Field(default="", sa_type=Text)
    is_dropped: bool = False
    version: int = 1
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    changed_at: datetime = Field(sa_type=Moment)


class OutworkRow(Row, table=True):
    """One slip: what went out, to whom, for what, until when; and what came back.

    `frozen` holds all that stands on its paper. Money is in minor units of `currency`, weights in mg.
    """

    __tablename__ = "outwork"
    __table_args__ = (
        UniqueConstraint("order_id", "revision"),
        CheckConstraint("revision > 0 AND value_minor >= 0", name="numbers"),
        CheckConstraint(
            "(weight_out_mg IS NULL OR weight_out_mg > 0) AND (weight_in_mg IS NULL OR weight_in_mg > 0)",
            name="weights",
        ),
        CheckConstraint("(back_at IS NULL) = (back_by IS NULL)", name="back"),
        Index(None, "back_at", "due_on"),
    )

    id: int = Field(default=None, primary_key=True)
    number: str = Field(sa_type=Text, unique=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, revision)
    revision: int
    outworker_id: int = Field(foreign_key="outworkers.id", index=True)
    worker: str = Field(sa_type=Text)
    what: str = Field(sa_type=Text)
    held_by: str = Field(default="", sa_type=Text)
    currency: str = Field(sa_type=Text)
    value_minor: int
    weight_out_mg: int | None = None
    due_on: date
    expected_minor: int | None = None
    out_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    frozen: Any = Field(sa_type=JsonText, nullable=False)
    back_at: datetime | None = Field(default=None, sa_type=Moment)
    back_by: str | None = Field(default=None, sa_type=Text)
    back_user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    weight_in_mg: int | None = None
    cost_minor: int | None = None
    condition: str = Field(default="", sa_type=Text)


class OutworkThingRow(Row, table=True):
    """One thing of a slip. `out` is the thing again while it is out and nothing once it is back.

    So the book itself lets no thing be out twice at once.
    """

    __tablename__ = "outwork_things"
    __table_args__ = (UniqueConstraint("outwork_id", "thing"), UniqueConstraint("out"))

    id: int = Field(default=None, primary_key=True)
    outwork_id: int = Field(foreign_key="outwork.id")  # indexed by (outwork_id, thing)
    thing: str = Field(sa_type=Text)
    words: str = Field(sa_type=Text)
    out: str | None = Field(default=None, sa_type=Text)
