"""What the book refuses of payments, as facts."""

from studio.book.errors import BookError, NotFound


class PaymentUnknown(NotFound):
    """No payment has this number."""

    def __init__(self, number: str) -> None:
        super().__init__(f"no payment {number}")
        self.number = number


class PaymentUndone(BookError):
    """It was taken back already, or is itself the taking back of another."""

    def __init__(self, number: str) -> None:
        super().__init__(f"{number} cannot be taken back")
        self.number = number


class NothingPaid(BookError):
    """Nothing was paid of the order, so nothing is given back."""

    def __init__(self, number: str) -> None:
        super().__init__(f"nothing was paid of {number}")
        self.number = number
