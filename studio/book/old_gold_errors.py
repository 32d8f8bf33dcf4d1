"""What the register of old gold refuses, as facts."""

from datetime import date

from studio.book.errors import BookError, NotFound


class OldGoldUnknown(NotFound):
    """The register has no purchase of this number."""

    def __init__(self, number: int) -> None:
        super().__init__(f"no old gold {number}")
        self.number = number


class OldGoldStruck(BookError):
    """The purchase is struck already."""

    def __init__(self, number: int) -> None:
        super().__init__(f"old gold {number} is struck")
        self.number = number


class SellerKept(BookError):
    """The seller's particulars are to be kept until that day, or are gone already."""

    def __init__(self, number: int, until: date) -> None:
        super().__init__(f"the seller of {number} is kept until {until}")
        self.number = number
        self.until = until
