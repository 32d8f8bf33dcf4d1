"""Rings by their names as they are typed, '2026-118/1'."""

from sqlmodel import Session, col, select

from studio.book.order_tables import OrderRow, RingRow
from studio.craft.errors import Refusal, Refused, Why


def checked_ring(session: Session, name: str, field: str, *, is_needed: bool = False) -> str:
    """The ring of this name, '2026-118/1'; raises `Refused` naming `field` where there is none."""
    name = name.strip()
    number, _, position = name.partition("/")
    place = int(position) if position.isascii() and position.isdigit() and len(position) < 4 else 0
    if not name and not is_needed:
        return ""
    wanted = (
        select(RingRow.id)
        .join(OrderRow, col(OrderRow.id) == col(RingRow.order_id))
        .where(col(OrderRow.number) == number, col(RingRow.position) == place)
    )
    if not place or session.exec(wanted).first() is None:
        raise Refused(Refusal(field, Why.UNKNOWN_CHOICE if name else Why.EMPTY, name[:24]))
    return f"{number}/{place}"
