"""The table of what the studio changed in the route of a ring."""

from typing import Any

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field

from studio.book.types import JsonText, Row


class RouteRow(Row, table=True):
    """The changes of one ring's route, as JSON; a ring without a row goes the way the rules lay down."""

    __tablename__ = "routes"
    __table_args__ = (
        UniqueConstraint("order_id", "position"),
        CheckConstraint("position > 0", name="position"),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, position)
    position: int
    changes: Any = Field(sa_type=JsonText, nullable=False)
