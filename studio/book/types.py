"""How the book's columns keep what they are given, the same on SQLite and PostgreSQL."""

import json
from collections.abc import Iterable
from datetime import UTC, datetime
from enum import StrEnum
from typing import Any, ClassVar

from sqlalchemy import DateTime, Dialect, MetaData, Text
from sqlalchemy.types import TypeDecorator
from sqlmodel import SQLModel

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
"""Every constraint and index has a name, so that a later migration can speak of it."""


class Row(SQLModel):
    """A row of the book. Rows stay inside `studio.book`; what leaves it are frozen values."""

    metadata: ClassVar[MetaData] = MetaData(naming_convention=NAMES)


class Moment(TypeDecorator[datetime]):
    """A moment in UTC. One without a zone is refused: nobody could say when it was."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment as stored: UTC, and on SQLite without the zone it would not keep."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment without a time zone cannot be stored")
        in_utc = value.astimezone(UTC)
        return in_utc.replace(tzinfo=None) if dialect.name == "sqlite" else in_utc

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002  the type asks for it
        """The stored moment with its zone, UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class JsonText(TypeDecorator[Any]):
    """Plain values as JSON in a text column, keys in order, letters of every script as they are."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> str | None:  # noqa: ARG002  the type asks for it
        """The value as JSON text."""
        return None if value is None else json.dumps(value, ensure_ascii=False, sort_keys=True)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Any:  # noqa: ARG002  the type asks for it
        """The value read back."""
        return None if value is None else json.loads(value)


def one_of(column: str, words: Iterable[StrEnum]) -> str:
    """The text of a CHECK that lets `column` hold only these words."""
    return f"{column} IN ({', '.join(repr(str(word)) for word in words)})"
