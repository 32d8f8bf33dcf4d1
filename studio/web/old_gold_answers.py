"""The status and the sentence for each thing the register of old gold refuses."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.old_gold_errors import OldGoldStruck, OldGoldUnknown, SellerKept
from studio.web.days import full_day_words
from studio.web.errors import Declined

OLD_GOLD_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    OldGoldUnknown: lambda _: Declined(404, "The register of old gold has no such entry."),
    OldGoldStruck: lambda error: Declined(409, f"Entry {error.number} is struck already."),
    SellerKept: lambda error: Declined(
        409,
        f"The seller of entry {error.number} is to be kept until {full_day_words(error.until)}, "
        "or is forgotten already.",
    ),
}
