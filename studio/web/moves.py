"""Which right a move of an order takes."""

from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.craft.roles import Right


def right_for(start: State, end: State) -> Right:
    """The right it takes to move an order from `start` to `end`.

    The customer's yes, handing over (and taking back in), and calling off (and taking up again) have their
    own; every step between agreed and ready is the bench's everyday.
    """
    if end is State.AGREED and start in BEFORE_AGREEMENT:
        return Right.AGREE
    if State.CALLED_OFF in {start, end} or end in BEFORE_AGREEMENT:
        return Right.TAKE_ORDERS
    if State.HANDED_OVER in {start, end}:
        return Right.HAND_OVER
    return Right.MOVE_ORDERS
