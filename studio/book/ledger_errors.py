"""What the metal ledger refuses, as facts: the sentences are written in the web room."""

from studio.book.errors import BookError


class MovementUnknown(BookError):
    """The ledger has no row of this number."""

    def __init__(self, number: int) -> None:
        super().__init__(f"no movement {number}")
        self.number = number


class MovementKept(BookError):
    """The movement cannot be corrected by hand: `why` says the matter in words."""

    def __init__(self, number: int, why: str) -> None:
        super().__init__(f"movement {number} stays: {why}")
        self.number = number
        self.why = why


class LotUnknown(BookError):
    """There is no refiner's lot of this number."""

    def __init__(self, lot_id: int) -> None:
        super().__init__(f"no lot {lot_id}")
        self.lot_id = lot_id


class LotSettled(BookError):
    """The refiner has settled this lot already."""

    def __init__(self, lot_id: int) -> None:
        super().__init__(f"lot {lot_id} is settled")
        self.lot_id = lot_id
