"""The status and the sentence for what the book refuses of pictures."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.picture_errors import PicturesFull, PicturesStand, PictureUnknown
from studio.web.errors import Declined

PICTURE_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    PictureUnknown: lambda _: Declined(404, "This order has no such picture."),
    PicturesStand: lambda error: Declined(
        409, f"The order is {error.state}, so its pictures stay as they are."
    ),
    PicturesFull: lambda error: Declined(
        409,
        f"An order keeps {error.most} pictures at most. Take one away, then add this one.",
        field="picture",
    ),
}
