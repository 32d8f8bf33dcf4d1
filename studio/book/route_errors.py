"""Why the route of a ring cannot be changed, as facts."""

from studio.book.errors import BookError


class RouteFixed(BookError):
    """The ring is not being made: it is not agreed yet, or made, or called off."""

    def __init__(self, number: str, position: int) -> None:
        super().__init__(f"the route of {number}/{position} is not to be changed")
        self.number = number
        self.position = position
