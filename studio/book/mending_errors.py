"""Why a ring cannot be mended by an order, as facts."""

from enum import StrEnum

from studio.book.errors import BookError


class WhyNotMended(StrEnum):
    """Why an order cannot mend a ring."""

    NO_RING = "there is no such ring"
    NOT_MADE = "the ring is not agreed yet, so nothing is made that could be mended"
    ITSELF = "an order would mend itself, straight away or by way of others"


class CannotMend(BookError):
    """The order cannot mend ring `ring` of order `number`."""

    def __init__(self, number: str, ring: int, why: WhyNotMended) -> None:
        super().__init__(f"{number}/{ring} cannot be mended: {why}")
        self.number = number
        self.ring = ring
        self.why = why
