"""What the drawer refuses, as facts: the sentences are written in the web room."""

from studio.book.errors import BookError


class PieceUnknown(BookError):
    """There is no piece of this number."""

    def __init__(self, piece_id: int) -> None:
        super().__init__(f"no piece {piece_id}")
        self.piece_id = piece_id


class PieceGone(BookError):
    """The piece is not in the drawer any more."""

    def __init__(self, piece_id: int, why: str) -> None:
        super().__init__(f"piece {piece_id} is gone: {why}")
        self.piece_id = piece_id
        self.why = why


class PieceTaken(BookError):
    """The piece is set aside for another order, or is a customer's own; `order` is None for the latter."""

    def __init__(self, mark: str, order: str | None) -> None:
        super().__init__(f"{mark} is taken for {order or 'its owner'}")
        self.mark = mark
        self.order = order
