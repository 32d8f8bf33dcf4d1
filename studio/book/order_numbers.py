"""Order numbers: a year and a serial, without gaps and never given twice."""

import re
from dataclasses import dataclass

from sqlalchemy import text
from sqlmodel import Session

_NUMBER = re.compile(r"(\d{4})-(\d{1,9})")
_COUNT = text(
    "INSERT INTO order_counters (year, last) VALUES (:year, 1) "
    "ON CONFLICT (year) DO UPDATE SET last = order_counters.last + 1 RETURNING last"
)


@dataclass(frozen=True, slots=True, order=True)
class OrderNumber:
    """A number as written, '2026-118': year and serial, which also order the list."""

    year: int
    serial: int

    def __str__(self) -> str:
        return f"{self.year}-{self.serial}"


def read_number(text: str) -> OrderNumber | None:
    """The number written in `text`, or None: '2026-118' and the ring's '2026-118/1' read, '118' does not."""
    found = _NUMBER.fullmatch(text.strip().split("/", 1)[0])
    return None if found is None else OrderNumber(int(found[1]), int(found[2]))


def next_number(session: Session, year: int) -> OrderNumber:
    """The next number of `year`, counted in the open transaction: an order that is not saved uses up none."""
    serial = session.connection().execute(_COUNT, {"year": year}).scalar_one()
    return OrderNumber(year, serial)
