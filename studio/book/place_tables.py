"""The tables of where things lie: the studio's own list of places, and each time a thing was put down."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, Text
from sqlmodel import Field

from studio.book.types import Moment, Row


class PlaceRow(Row, table=True):
    """One place of the studio's: 'safe, tray 2'. The row stays when it is dropped."""

    __tablename__ = "places"
    __table_args__ = (CheckConstraint("length(name) > 0 AND version > 0", name="named"),)

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    is_dropped: bool = False
    version: int = 1
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    changed_at: datetime = Field(sa_type=Moment)


class PlaceMoveRow(Row, table=True):
    """A thing was put down in a place; without one, nobody said where. Rows are added and never changed.

    `thing` is a ring ('2026-118/1') or a line of a receipt for goods ('2026-118-r1/2').
    """

    __tablename__ = "place_moves"
    __table_args__ = (Index(None, "order_id", "id"),)

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, id)
    thing: str = Field(sa_type=Text)
    place_id: int | None = Field(default=None, foreign_key="places.id", index=True)
    at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
