"""What the book refuses of PINs and of devices at the bench, as facts."""

from enum import StrEnum

from studio.book.errors import BookError, NotFound


class WhyNoPin(StrEnum):
    """Why something is not taken as a PIN."""

    NOT_DIGITS = "not 4 to 8 digits"
    COMMON = "one digit over and over, or digits in a row"


class PinRefused(BookError):
    """This is not taken as a PIN."""

    def __init__(self, why: WhyNoPin) -> None:
        super().__init__(str(why))
        self.why = why


class PinWrong(BookError):
    """Name and PIN do not belong together, or the person has none."""

    def __init__(self) -> None:
        super().__init__("name and PIN do not match")


class DeviceUnknown(NotFound):
    """No device of the bench has this key or id, or none any more."""

    def __init__(self) -> None:
        super().__init__("no such device")
