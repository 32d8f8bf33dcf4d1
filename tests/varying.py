"""Orders with other ways to make their rings."""

from dataclasses import replace
from typing import Any

from sqlmodel import Session

from studio.book.orders import Order
from studio.book.people import PROGRAM
from studio.book.variants import add_variant
from tests.builders import NOW

IN_SILVER: dict[str, Any] = {"alloy": "silver-925"}


def offered(session: Session, stands: Order, *changes: dict[str, Any]) -> Order:
    """The order with one more way to make its rings for each of `changes` to their designs."""
    for change in changes:
        rings = [replace(ring.draft, design=replace(ring.design, **change)) for ring in stands.rings]
        stands = add_variant(
            session, number=stands.number, version=stands.version, rings=rings, actor=PROGRAM, now=NOW
        )
    return stands
