"""The status and the sentence for what the book refuses of pieces of stock and of cuts."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.piece_errors import CutKept, CutUnknown, NotToCut, PieceGone, PieceTaken, PieceUnknown
from studio.web.errors import Declined

PIECE_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    NotToCut: lambda error: Declined(409, f"{error.what or 'This'} cannot be booked as cut: {error.why}."),
    CutUnknown: lambda _: Declined(404, "There is no such cut."),
    CutKept: lambda error: Declined(409, f"The cut cannot be undone: {error.why}."),
    PieceUnknown: lambda _: Declined(404, "There is no such piece."),
    PieceGone: lambda error: Declined(409, f"This piece is not in the drawer any more: {error.why}."),
    PieceTaken: lambda error: Declined(
        409,
        f"{error.mark} is a customer's own metal and stays with that customer's orders."
        if error.order is None
        else f"{error.mark} is set aside for order {error.order}.",
    ),
}
