"""What the book refuses of pictures, as facts."""

from studio.book.errors import BookError, NotFound
from studio.craft.orders import State


class PictureUnknown(NotFound):
    """The order has no such picture, or none any more."""

    def __init__(self, number: str, picture_id: int) -> None:
        super().__init__(f"no picture {picture_id} of {number}")
        self.number = number
        self.picture_id = picture_id


class PicturesStand(BookError):
    """The order is handed over or called off: its pictures stay as they are."""

    def __init__(self, number: str, state: State) -> None:
        super().__init__(f"{number} is {state}: its pictures stand")
        self.number = number
        self.state = state


class PicturesFull(BookError):
    """The order has as many pictures as it may, `most`."""

    def __init__(self, number: str, most: int) -> None:
        super().__init__(f"{number} has {most} pictures")
        self.number = number
        self.most = most
