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


class NotToCut(BookError):
    """A blank cannot be booked so: `what` is the ring or the piece, `why` says the matter in words."""

    def __init__(self, what: str, why: str) -> None:
        super().__init__(f"{what}: {why}")
        self.what = what
        self.why = why


class CutUnknown(BookError):
    """There is no cut of this number."""

    def __init__(self, cut_id: int) -> None:
        super().__init__(f"no cut {cut_id}")
        self.cut_id = cut_id


class CutKept(BookError):
    """The cut cannot be undone: `why` says the matter in words."""

    def __init__(self, cut_id: int, why: str) -> None:
        super().__init__(f"cut {cut_id} stays: {why}")
        self.cut_id = cut_id
        self.why = why
