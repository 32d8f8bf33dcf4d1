"""What the book refuses of proofs, hand-overs and answers on the fit, as facts."""

from studio.book.errors import BookError
from studio.craft.orders import State


class NothingToProve(BookError):
    """The ring has no words to cut, or its order is not one that is made any more."""

    def __init__(self, number: str, position: int) -> None:
        super().__init__(f"{number}/{position} has no words to prove")
        self.number = number
        self.position = position


class ProofChanged(BookError):
    """The words were changed since they were read back: what was read is not what would be cut."""

    def __init__(self, number: str, position: int) -> None:
        super().__init__(f"the words of {number}/{position} are others by now")
        self.number = number
        self.position = position


class NotToHandOver(BookError):
    """The order is not ready, so nothing is handed over."""

    def __init__(self, number: str, state: State) -> None:
        super().__init__(f"{number} is {state}, not ready")
        self.number = number
        self.state = state


class NotWorn(BookError):
    """The order is not handed over, or has no such ring: nobody has worn it."""

    def __init__(self, number: str, position: int) -> None:
        super().__init__(f"{number}/{position} is not handed over")
        self.number = number
        self.position = position
