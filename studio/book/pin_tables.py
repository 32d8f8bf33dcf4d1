"""The tables of PINs, and of the devices at the bench on which they are typed."""

from datetime import datetime

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field

from studio.book.types import Moment, Row


class PinRow(Row, table=True):
    """A person's PIN, kept only as a hash."""

    __tablename__ = "pins"

    user_id: int = Field(foreign_key="users.id", primary_key=True)
    pin_hash: str = Field(sa_type=Text)
    set_at: datetime = Field(sa_type=Moment)


class BenchDeviceRow(Row, table=True):
    """A device of the bench: who signed it in, and whose PIN was typed on it last.

    `maker_id` and `maker_seen_at` are of whoever works on it now; the cookie's key is kept only as a hash.
    """

    __tablename__ = "bench_devices"
    __table_args__ = (
        CheckConstraint("length(name) > 0", name="name"),
        CheckConstraint("(maker_id IS NULL) = (maker_seen_at IS NULL)", name="maker"),
    )

    id: int = Field(default=None, primary_key=True)
    name: str = Field(sa_type=Text)
    key_hash: str = Field(sa_type=Text, unique=True)
    user_id: int = Field(foreign_key="users.id", index=True)
    created_at: datetime = Field(sa_type=Moment)
    maker_id: int | None = Field(default=None, foreign_key="users.id", index=True)
    maker_seen_at: datetime | None = Field(default=None, sa_type=Moment)
    ended_at: datetime | None = Field(default=None, sa_type=Moment)
