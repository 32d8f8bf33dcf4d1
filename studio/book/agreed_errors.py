"""What variants, amendments and calling off refuse, as facts: the sentences are written in the web room."""

from studio.book.errors import BookError
from studio.craft.orders import State


class TooManyVariants(BookError):
    """The order has as many ways to make it as one quote offers."""

    def __init__(self, number: str, most: int) -> None:
        super().__init__(f"{number} has {most} ways already")
        self.number = number
        self.most = most


class VariantUnknown(BookError):
    """The order, or the quote, has no variant of this key."""

    def __init__(self, number: str, key: str) -> None:
        super().__init__(f"{number} has no variant {key}")
        self.number = number
        self.key = key


class VariantNotSaid(BookError):
    """The quote offers a choice, and the yes does not say which: `keys` are those it has."""

    def __init__(self, number: str, keys: tuple[str, ...]) -> None:
        super().__init__(f"{number} offers {', '.join(keys)}")
        self.number = number
        self.keys = keys


class NothingAmended(BookError):
    """There is nothing to amend: the order is not agreed, or the amendment would change nothing."""

    def __init__(self, number: str, state: State, why: str) -> None:
        super().__init__(f"{number} is {state}: {why}")
        self.number = number
        self.state = state
        self.why = why


class AnswerLinkSpent(BookError):
    """The link opens nothing: nobody made it, or another took its place."""

    def __init__(self) -> None:
        super().__init__("the link opens nothing")


class NothingToSettleUp(BookError):
    """The order was not called off after a yes: nothing is owed of it."""

    def __init__(self, number: str) -> None:
        super().__init__(f"{number} was not called off after a yes")
        self.number = number


class NothingToSettle(BookError):
    """No size of this ring waits to be settled: the order is not agreed, or the ring's size is known."""

    def __init__(self, number: str, position: int) -> None:
        super().__init__(f"{number}, ring {position}: no size to settle")
        self.number = number
        self.position = position
