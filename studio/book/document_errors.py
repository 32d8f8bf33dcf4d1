"""What the book refuses of an order's documents, as facts."""

from studio.book.errors import BookError, NotFound
from studio.craft.orders import State


class DocumentUnknown(NotFound):
    """No document has this number."""

    def __init__(self, number: str) -> None:
        super().__init__(f"no document {number}")
        self.number = number


class DocumentPdfNotYet(BookError):
    """The document is issued, and its paper is not made yet."""

    def __init__(self, number: str) -> None:
        super().__init__(f"the paper of {number} is not made yet")
        self.number = number


class NothingToConfirm(BookError):
    """The order is not agreed, or not any more."""

    def __init__(self, number: str, state: State) -> None:
        super().__init__(f"{number} is {state}: nothing to confirm")
        self.number = number
        self.state = state


class GoodsStand(BookError):
    """The order is handed over or called off: nothing more is taken in for it."""

    def __init__(self, number: str, state: State) -> None:
        super().__init__(f"{number} is {state}: nothing is taken in")
        self.number = number
        self.state = state


class RiskUnanswered(BookError):
    """Nobody said who bears the risk of setting these stones of the customer's, each in words."""

    def __init__(self, number: str, stones: tuple[str, ...]) -> None:
        super().__init__(f"{number}: whose risk is {', '.join(stones)}")
        self.number = number
        self.stones = stones


class NothingTakenIn(BookError):
    """A receipt without a line: no stone of the customer's that is not held yet, and no other goods."""

    def __init__(self, number: str) -> None:
        super().__init__(f"{number}: nothing is taken in")
        self.number = number


class NothingHeld(BookError):
    """Nothing of the customer's is held for the order, so nothing goes back."""

    def __init__(self, number: str) -> None:
        super().__init__(f"{number}: nothing is held")
        self.number = number
