"""The table of the pictures of orders."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, LargeBinary, Text
from sqlmodel import Field

from studio.book.types import Moment, Row


class PictureRow(Row, table=True):
    """One picture of an order: of its ring at `position`, or of the whole order.

    `sha256` is that of `jpeg`. One that was taken away keeps its row for the history, and none of its points.
    """

    __tablename__ = "pictures"
    __table_args__ = (
        CheckConstraint("position IS NULL OR position > 0", name="position"),
        CheckConstraint("width_px > 0 AND height_px > 0", name="sides"),
        CheckConstraint(
            "(taken_away_at IS NULL) = (jpeg IS NOT NULL)"
            " AND (taken_away_at IS NULL) = (small_jpeg IS NOT NULL)",
            name="kept",
        ),
        Index(None, "order_id", "id"),
    )

    id: int = Field(default=None, primary_key=True)
    order_id: int = Field(foreign_key="orders.id")  # indexed by (order_id, id)
    position: int | None = None
    note: str = Field(default="", sa_type=Text)
    width_px: int
    height_px: int
    sha256: str = Field(sa_type=Text)
    added_at: datetime = Field(sa_type=Moment)
    user_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    actor: str = Field(sa_type=Text)
    taken_away_at: datetime | None = Field(default=None, sa_type=Moment)
    small_jpeg: bytes | None = Field(default=None, sa_type=LargeBinary)
    jpeg: bytes | None = Field(default=None, sa_type=LargeBinary)
