"""The table of what happens at the bench, step by step. Rows are added, never changed and never taken out."""

from datetime import datetime
from typing import Any

from sqlalchemy import CheckConstraint, Text, UniqueConstraint
from sqlmodel import Field

from studio.book.types import JsonText, Moment, Row, one_of
from studio.craft.bench_work import What


class BenchWorkRow(Row, table=True):
    """One thing that happened to a ring: `serial` counts those of a ring, `undoes` the one it takes back.

    A figure is a length in µm or a weight in mg; `minutes` are those typed. `record_before` is the ring's
    bench record as it was where this changed it.
    """

    __tablename__ = "bench_work"
    __table_args__ = (
        UniqueConstraint("order_id", "position", "serial"),
        CheckConstraint("position > 0 AND serial > 0", name="numbers"),
        CheckConstraint(one_of("what", What), name="what"),
        CheckConstraint(
            "(figure_um IS NULL OR figure_um > 0) AND (figure_mg IS NULL OR figure_mg > 0)"
            " AND (figure_um IS NULL OR figure_mg IS NULL)",
            name="figure",
        ),
        CheckConstraint("minutes IS NULL OR minutes > 0", name="minutes"),
        CheckConstraint("(what = 'undone') = (undoes IS NOT NULL)", name="undoes"),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, position, serial)
    position: int
    serial: int
    operation: str = Field(sa_type=Text)
    what: str = Field(sa_type=Text)
    figure_um: int | None = None
    figure_mg: int | None = None
    minutes: int | None = None
    then_operation: str = Field(default="", sa_type=Text)
    reason: str = Field(default="", sa_type=Text)
    undoes: int | None = None
    record_before: Any = Field(default=None, sa_type=JsonText, nullable=True)
    at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    maker: str = Field(sa_type=Text)
