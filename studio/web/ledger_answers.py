"""The status and the sentence for each thing the metal ledger refuses."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.ledger_errors import LotSettled, LotUnknown, MovementKept, MovementUnknown
from studio.web.errors import Declined

LEDGER_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    MovementUnknown: lambda _: Declined(404, "The ledger has no such row."),
    MovementKept: lambda error: Declined(409, f"Row {error.number} cannot be taken back: {error.why}."),
    LotUnknown: lambda _: Declined(404, "There is no such lot."),
    LotSettled: lambda error: Declined(409, f"What was paid for lot {error.lot_id} is kept already."),
}
