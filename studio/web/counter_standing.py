"""Whose ring is on the counter's page: the order it belongs to, its place, and the way it is made there."""

from dataclasses import dataclass, replace

from sqlmodel import Session

from studio.book.agreed_errors import VariantUnknown
from studio.book.amendments import amended_rings
from studio.book.order_values import Order, OrderRing
from studio.book.orders import order
from studio.web.errors import Declined

AMENDMENT = "amendment"
"""What stands for the key of a variant while an amendment is put together."""


@dataclass(frozen=True, slots=True)
class Standing:
    """The order whose ring is on the page, and which ring; `ring` is None while one is added.

    With a `variant` the order's rings are those of the way called so; `AMENDMENT` is what an agreed order is
    to become.
    """

    order: Order
    ring: OrderRing | None
    variant: str = ""

    @property
    def href(self) -> str:
        """Where the page of this ring stands."""
        way = f"/variants/{self.variant}" if self.variant else ""
        if self.variant == AMENDMENT:
            way = "/amendment"
        return f"/orders/{self.order.number}{way}/rings/{self.position or 'new'}"

    @property
    def has_finger_of_order(self) -> bool:
        """Whether its finger is not asked here: another way to make a ring is for the same finger."""
        return self.variant not in {"", AMENDMENT}

    @property
    def position(self) -> int | None:
        """The ring's place in the order, None for one more."""
        return None if self.ring is None else self.ring.position


def standing_of(book: Session, number: str, position: str, variant: str = "") -> Standing:
    """The order and its ring at `position`, '1' or 'new'; with `variant` as that way makes it.

    Raises `OrderUnknown`, `VariantUnknown`; 404 without the ring.
    """
    found = order(book, number)
    if position == "new" and not variant:
        return Standing(found, None)
    if variant == AMENDMENT:
        if found.amending is None:
            raise VariantUnknown(found.number, variant)
        found = replace(found, rings=amended_rings(book, found))
    elif variant:
        way = next((one for one in found.variants if one.key == variant), None)
        if way is None:
            raise VariantUnknown(found.number, variant)
        found = replace(found, rings=way.rings)
    ring = next((ring for ring in found.rings if str(ring.position) == position), None)
    if ring is None:
        raise Declined(404, f"Order {found.number} has no such ring.")
    return Standing(found, ring, variant)
