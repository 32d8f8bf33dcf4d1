"""A customer's stones that an order names: which are to be taken in, and whose risk nobody has settled."""

from studio.book.order_values import Order
from studio.craft.goods import is_held
from studio.craft.particulars import Stone, Whose
from studio.craft.stones import stone_line


def stones_of_customer(found: Order) -> tuple[tuple[int, int, Stone], ...]:
    """The customer's stones of an order, each with the place of its ring and its own, counted from 1."""
    return tuple(
        (ring.position, at, stone)
        for ring in found.rings
        for at, stone in enumerate(ring.particulars.stones or (), 1)
        if stone.whose is Whose.CUSTOMER
    )


def stones_to_take_in(found: Order) -> tuple[tuple[int, int, Stone], ...]:
    """Those of the customer's stones that no receipt holds yet."""
    return tuple(
        (ring, at, stone) for ring, at, stone in stones_of_customer(found) if is_new(found, ring, at, stone)
    )


def unanswered_stones(found: Order) -> tuple[str, ...]:
    """The customer's stones of which nobody said who bears the risk of setting them, in words."""
    return tuple(
        f"ring {ring}, {stone_line(stone).removesuffix(', risk not answered')}"
        for ring, _, stone in stones_of_customer(found)
        if stone.wants_an_answer
    )


def is_new(found: Order, ring: int, at: int, stone: Stone) -> bool:
    """Whether these stones lie on no receipt yet."""
    return not is_held(ring, at, stone, found.goods_held)
